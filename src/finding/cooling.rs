//! What is found at charge coolers: flows, dew point, boiling, correlations.

use super::catalogue::Code;
use super::context::Context;
use super::detail::Detail;
use super::entry::Finding;
use super::rule::{Basis, Severity};
use super::subject::Subject;
use crate::air_path::{Cooler, Exchange, Part, Side, SinkFluid};
use crate::gas::{HumidAir, saturation_pressure, saturation_temperature};
use crate::matching::CoolerState;

/// Above this an effectiveness is none, by more than rounding.
const WHOLE: f64 = 1.0 + 1e-9;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    let coolers = context.layout.coolers.iter().zip(&context.found.coolers);
    for (index, ((_, part), state)) in coolers.enumerate() {
        let Some(Part::Cooler(cooler)) = context.installation.air_path.get(*part) else {
            continue;
        };
        let cooler = CoolerContext {
            context,
            cooler,
            state,
            subject: Subject::Cooler(index),
            part: *part,
        };
        list.extend(cooler.below_sink());
        list.extend(cooler.above_flows());
        list.extend(cooler.dew_point());
        list.extend(cooler.boils());
        list.extend(cooler.starved());
        list.extend(cooler.outside_correlation());
        list.extend(cooler.unconfirmed());
    }
}

/// One cooler of a match.
struct CoolerContext<'a> {
    context: &'a Context<'a>,
    cooler: &'a Cooler,
    state: &'a CoolerState,
    subject: Subject,
    /// Its place among the parts.
    part: usize,
}

impl CoolerContext<'_> {
    fn against(&self, code: Code, pair: (f64, f64)) -> Option<Finding> {
        self.context.against(code, self.subject, pair)
    }

    /// No cooler brings the charge beyond its sink.
    fn below_sink(&self) -> Option<Finding> {
        let pair = (self.state.effectiveness, 1.0);
        let found = self.against(Code::OutletBeyondSink, pair)?;
        (self.state.effectiveness > WHOLE).then_some(found)
    }

    /// A given effectiveness that the sink's flow cannot serve.
    fn above_flows(&self) -> Option<Finding> {
        let Exchange::Fixed(_) = self.cooler.exchange else {
            return None;
        };
        let pair = (self.state.effectiveness, self.state.flow_limit?);
        let found = self.against(Code::EffectivenessAboveFlows, pair)?;
        (found.severity > Severity::Ok).then_some(found)
    }

    /// Vapour of the charge above saturation after the cooler; the match itself lets none condense.
    fn dew_point(&self) -> Option<Finding> {
        let site = &self.context.installation.site;
        let air = HumidAir::new(site.pressure, site.temperature, site.relative_humidity).ok()?;
        let outlet = self.state.outlet_temperature;
        let pressure = self.outlet_pressure()?;
        let vapour = air.water_fraction() * pressure;
        let saturated = saturation_pressure(outlet).ok()?;
        if vapour <= saturated || saturated >= pressure {
            return None;
        }
        let dew_point = saturation_temperature(vapour)?;
        // Water that stays in each kilogram of dry air, as the ratio of what there is.
        let stays = saturated / (pressure - saturated) * (pressure - vapour) / vapour;
        let water = self.context.found.air_mass_flow
            * air.dry_share()
            * air.humidity_ratio()
            * (1.0 - stays);
        let found = self.against(Code::ChargeBelowDewPoint, (outlet, dew_point))?;
        Some(found.with(Detail::Condensate(water)).weighing(water))
    }

    /// Absolute pressure after the cooler, Pa.
    fn outlet_pressure(&self) -> Option<f64> {
        let place = crate::matching::StationPlace::After(self.part);
        self.context.station(place).map(|(_, state)| state.pressure)
    }

    /// The sink's water where it leaves, against its boiling point.
    fn boils(&self) -> Option<Finding> {
        let sink = &self.cooler.sink;
        if sink.fluid != SinkFluid::Water {
            return None;
        }
        let hot = self.state.exchanger?.sink_outlet_temperature;
        let pressure = sink.circuit.map_or(sink.pressure, |it| it.pressure);
        let pair = (hot, saturation_temperature(pressure)?);
        let found = self.against(Code::CoolantBoils, pair)?;
        (found.severity > Severity::Ok).then_some(found)
    }

    fn starved(&self) -> Option<Finding> {
        // Without an exchanger: the sink stands, or flows too little for what is asked of it.
        let from_limit = || self.state.flow_limit.filter(|&limit| limit < 1.0);
        let exchanger = self.state.exchanger.map(|one| one.sink_over_charge);
        let ratio = exchanger.or_else(from_limit);
        let found = self.context.check(Code::SinkStarved, self.subject, ratio)?;
        // A given effectiveness against a sink that stands is no rule of thumb: nothing does that.
        let impossible = found.value.is_some_and(|value| value <= 0.0)
            && matches!(self.cooler.exchange, Exchange::Fixed(_))
            && self.state.effectiveness > 0.0;
        let found = if impossible {
            found.at_severity(Severity::Over).by(Basis::Nature)
        } else {
            found
        };
        (found.severity > Severity::Ok).then_some(found)
    }

    fn outside_correlation(&self) -> Option<Finding> {
        let core = self.cooler.core()?;
        let (charge, sink) = self.state.exchanger?.reynolds?;
        let (side, out) = [(Side::Charge, charge), (Side::Sink, sink)]
            .into_iter()
            .find_map(|(side, reynolds)| Some((side, core.out_of_range(side, reynolds)?)))?;
        let found = self.context.remark(Code::OutsideCorrelation, self.subject);
        let (low, high) = out.range;
        let outside = (out.value / high).max(low / out.value);
        let found = found.with(Detail::Correlation { side, out });
        Some(found.weighing(outside))
    }

    fn unconfirmed(&self) -> Option<Finding> {
        let found = self.context.remark(Code::CoolerUnconfirmed, self.subject);
        self.state.unconfirmed.then_some(found)
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::*;
    use crate::air_path::{Correlated, Exchanger, WaterCircuit};
    use approx::assert_relative_eq;

    fn exchanger() -> Exchanger {
        Exchanger {
            conductance: 600.0,
            transfer_units: 2.3,
            capacity_ratio: 0.3,
            sink_over_charge: 3.3,
            heat_effectiveness: 0.75,
            sink_flow: 0.9,
            sink_outlet_temperature: 326.0,
            sink_pressure_drop: None,
            reynolds: None,
        }
    }

    fn cooler(case: &mut Case) -> &mut Cooler {
        let found = case
            .installation
            .air_path
            .iter_mut()
            .find_map(|part| match part {
                Part::Cooler(cooler) => Some(cooler),
                _ => None,
            });
        found.expect("the truck has a cooler")
    }

    #[test]
    fn an_effectiveness_above_one_is_impossible() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::OutletBeyondSink), []);
        case.found.coolers[0].effectiveness = 1.02;
        assert_eq!(case.one(Code::OutletBeyondSink).severity, Severity::Over);
    }

    #[test]
    fn a_given_effectiveness_is_held_against_what_the_flows_allow() {
        let mut case = Case::truck();
        case.found.coolers[0].flow_limit = Some(1.0);
        assert_eq!(case.all(Code::EffectivenessAboveFlows), []);
        case.found.coolers[0].flow_limit = Some(0.6);
        let found = case.one(Code::EffectivenessAboveFlows);
        assert_eq!((found.severity, found.limit), (Severity::Over, Some(0.6)));
    }

    /// 24 °C and 35 %: 1.045 kPa of vapour in 83.5 kPa; at 268.5 kPa 3.36 kPa, a dew point of
    /// 26 °C (steam tables 25.9).
    #[test]
    fn humid_charge_below_its_dew_point_tells_how_much_water() {
        let mut case = Case::truck();
        assert_eq!(case.all(Code::ChargeBelowDewPoint), []);
        case.found.coolers[0].outlet_temperature = 290.0;
        let found = case.one(Code::ChargeBelowDewPoint);
        assert_eq!(found.severity, Severity::Near);
        assert_relative_eq!(found.limit.expect("a dew point"), 299.0, epsilon = 0.3);
        let Detail::Condensate(water) = found.detail else {
            panic!("{found:?}")
        };
        // 0.00788 kg/kg comes, 0.622 · 1.92/266.6 = 0.00448 stays: 0.0034 of 0.258 kg/s.
        assert_relative_eq!(water, 0.0034 * 0.258, max_relative = 0.02);
        case.installation.site.relative_humidity = 0.0;
        assert_eq!(case.all(Code::ChargeBelowDewPoint), []);
    }

    /// Water boils at 100 °C at 101.4 kPa and at 120.2 °C at 200 kPa (steam tables).
    #[test]
    fn water_is_held_against_its_boiling_point() {
        let mut case = Case::truck();
        cooler(&mut case).sink.fluid = SinkFluid::Water;
        case.found.coolers[0].exchanger = Some(exchanger());
        assert_eq!(case.all(Code::CoolantBoils), []);
        case.found.coolers[0].exchanger = Some(Exchanger {
            sink_outlet_temperature: 375.0,
            ..exchanger()
        });
        assert_eq!(case.one(Code::CoolantBoils).severity, Severity::Over);
        cooler(&mut case).sink.circuit = Some(WaterCircuit {
            tank_volume: 0.01,
            ice_mass: 0.0,
            radiator_conductance: 0.0,
            pressure: 200e3,
        });
        let found = case.one(Code::CoolantBoils);
        assert_eq!(found.severity, Severity::Near);
        assert_relative_eq!(found.limit.expect("a limit"), 393.4, epsilon = 0.1);
    }

    #[test]
    fn a_sink_with_less_flow_than_the_charge_is_starved() {
        let mut case = Case::truck();
        case.found.coolers[0].exchanger = Some(exchanger());
        assert_eq!(case.all(Code::SinkStarved), []);
        case.found.coolers[0].exchanger = Some(Exchanger {
            sink_over_charge: 0.8,
            ..exchanger()
        });
        assert_eq!(case.one(Code::SinkStarved).severity, Severity::Near);
    }

    #[test]
    fn a_sink_that_stands_is_starved_and_serves_no_given_effectiveness() {
        let mut case = Case::truck();
        case.found.coolers[0].exchanger = None;
        case.found.coolers[0].flow_limit = Some(0.0);
        let found = case.one(Code::SinkStarved);
        assert_eq!((found.severity, found.value), (Severity::Over, Some(0.0)));
        case.found.coolers[0].effectiveness = 0.0;
        assert_eq!(case.one(Code::SinkStarved).severity, Severity::Near);
    }

    #[test]
    fn a_core_outside_its_correlations_and_one_unconfirmed_are_said() {
        let mut case = Case::truck();
        case.found.coolers[0].exchanger = Some(Exchanger {
            reynolds: Some((50.0, 300.0)),
            ..exchanger()
        });
        assert_eq!(case.all(Code::OutsideCorrelation), []);
        assert_eq!(case.all(Code::CoolerUnconfirmed), []);
        let core = super::super::fixture::core();
        cooler(&mut case).exchange = Exchange::Core(Box::new(core));
        case.found.coolers[0].unconfirmed = true;
        let found = case.one(Code::OutsideCorrelation);
        assert_eq!(found.severity, Severity::OutsideData);
        let Detail::Correlation { side, out } = found.detail else {
            panic!("{found:?}")
        };
        assert_eq!((side, out.what), (Side::Charge, Correlated::Reynolds));
        assert_eq!(case.one(Code::CoolerUnconfirmed).severity, Severity::Ok);
        case.found.coolers[0].exchanger = Some(Exchanger {
            reynolds: Some((500.0, 300.0)),
            ..exchanger()
        });
        assert_eq!(case.all(Code::OutsideCorrelation), []);
    }
}
