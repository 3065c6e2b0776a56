//! Filters, pipes, coolers and throttles: the pressure that each takes, how far its flow lies from the
//! one that its drop was rated at, and how fast the air is in a pipe.

use super::catalogue::Code;
use super::context::Context;
use super::entry::Finding;
use super::rule::Severity;
use super::subject::{PassivePart, Subject};
use crate::air_path::{Duct, DuctPressureDrop, Exchange, Part, RatedDrop};
use crate::matching::{StationPlace, StationState};

/// Ratio of heat capacities of air for the speed of sound; a Mach number needs no third digit.
const GAMMA: f64 = 1.4;

pub(super) fn find(context: &Context, list: &mut Vec<Finding>) {
    let mut numbers = [0_usize; 3];
    let Some((_, ambient)) = context.station(StationPlace::Ambient) else {
        return;
    };
    let mut here = AirState::at(ambient);
    let mut coolers = 0;
    for (index, part) in context.installation.air_path.iter().enumerate() {
        let (kind, passage) = match part {
            Part::Filter(_) => (0, PassivePart::Filter),
            Part::Duct(_) => (1, PassivePart::Duct),
            Part::Throttle(_) => (2, PassivePart::Throttle),
            Part::Cooler(_) => {
                let subject = Subject::Cooler(coolers);
                list.extend(cooler(context, subject, coolers));
                list.extend(beyond_rating(context, subject, rated_of(part)));
                coolers += 1;
                here = here.after(context, index);
                continue;
            }
            Part::Supercharger(_) | Part::TurboCompressor(_) => {
                here = here.after(context, index);
                continue;
            }
        };
        let subject = Subject::Passive(passage, numbers[kind]);
        numbers[kind] += 1;
        let flow = context.found.air_mass_flow;
        let drop = match part {
            Part::Duct(duct) => duct.pressure_drop(flow, here.density, here.temperature),
            Part::Filter(drop) | Part::Throttle(drop) => drop.pressure_drop(flow, here.density),
            _ => 0.0,
        };
        list.extend(loss(context, subject, drop / here.pressure));
        list.extend(beyond_rating(context, subject, rated_of(part)));
        if let Part::Duct(duct) = part {
            list.extend(mach(context, subject, duct, &here));
        }
        here = here.after_drop(drop);
    }
    list.extend(exhaust_pipe(context));
}

/// The air between two parts.
#[derive(Clone, Copy)]
struct AirState {
    pressure: f64,
    temperature: f64,
    density: f64,
}

impl AirState {
    fn at(state: &StationState) -> Self {
        Self {
            pressure: state.pressure,
            temperature: state.temperature,
            density: state.density,
        }
    }

    /// After a part that has a station there; else unchanged.
    fn after(self, context: &Context, part: usize) -> Self {
        let station = context.station(StationPlace::After(part));
        station.map_or(self, |(_, state)| Self::at(state))
    }

    /// After a drop in Pa at the same temperature.
    fn after_drop(self, drop: f64) -> Self {
        let left = (self.pressure - drop) / self.pressure;
        Self {
            pressure: left * self.pressure,
            density: left * self.density,
            ..self
        }
    }
}

/// The charge's rated drop of a part, where it has one.
fn rated_of(part: &Part) -> Option<RatedDrop> {
    match part {
        Part::Filter(drop)
        | Part::Throttle(drop)
        | Part::Duct(Duct {
            pressure_drop: DuctPressureDrop::Rated(drop),
        }) => Some(*drop),
        Part::Cooler(cooler) if !matches!(cooler.exchange, Exchange::Core(_)) => {
            Some(cooler.pressure_drop)
        }
        _ => None,
    }
}

fn cooler(context: &Context, subject: Subject, index: usize) -> Option<Finding> {
    let state = context.found.coolers.get(index)?;
    let (_, part) = context.layout.coolers.get(index)?;
    let (_, outlet) = context.station(StationPlace::After(*part))?;
    let inlet = outlet.pressure + state.pressure_drop;
    loss(context, subject, state.pressure_drop / inlet)
}

fn exhaust_pipe(context: &Context) -> Option<Finding> {
    context.installation.exhaust.as_ref()?;
    let last = context.layout.turbines.len().checked_sub(1);
    let place = last.map_or(StationPlace::Exhaust, StationPlace::TurbineOutlet);
    let (_, ahead) = context.station(place)?;
    let share = 1.0 - context.installation.site.pressure / ahead.pressure;
    loss(
        context,
        Subject::Passive(PassivePart::ExhaustPipe, 0),
        share,
    )
}

/// A value against its rule of thumb, where there is something to say.
fn past_rule(context: &Context, code: Code, subject: Subject, value: f64) -> Option<Finding> {
    let found = context.check(code, subject, Some(value))?;
    (found.severity > Severity::Ok).then_some(found)
}

fn loss(context: &Context, subject: Subject, share: f64) -> Option<Finding> {
    past_rule(context, Code::PressureLoss, subject, share)
}

fn beyond_rating(context: &Context, subject: Subject, drop: Option<RatedDrop>) -> Option<Finding> {
    let times = context.found.air_mass_flow / drop?.at_flow?;
    past_rule(context, Code::FlowBeyondRating, subject, times)
}

fn mach(context: &Context, subject: Subject, duct: &Duct, here: &AirState) -> Option<Finding> {
    let DuctPressureDrop::Pipe { diameter, .. } = duct.pressure_drop else {
        return None;
    };
    let area = std::f64::consts::PI * diameter * diameter / 4.0;
    let speed = context.found.air_mass_flow / (here.density * area);
    // γ R T as γ p/ρ.
    let sound = (GAMMA * here.pressure / here.density).sqrt();
    past_rule(context, Code::DuctMach, subject, speed / sound)
}

#[cfg(test)]
mod tests {
    use super::super::fixture::Case;
    use super::*;
    use approx::assert_relative_eq;

    /// The truck with another filter: 83.5 kPa and 297.15 K outside, 0.26 kg/s.
    fn filtered(pressure_drop: f64, at_flow: f64) -> Case {
        let mut case = Case::truck();
        let site = case.installation.site.pressure;
        let drop = RatedDrop::rated(pressure_drop, at_flow, site, 297.15);
        case.installation.air_path[0] = Part::Filter(drop);
        case
    }

    /// The truck with a pipe behind its cooler, 268.5 kPa and 330.4 K: 2.831 kg/m³.
    fn piped(diameter: f64) -> Case {
        let mut case = Case::truck();
        case.installation.air_path.push(Part::Duct(Duct {
            pressure_drop: DuctPressureDrop::Pipe {
                diameter,
                length: 0.5,
                bends: 1.0,
            },
        }));
        case
    }

    #[test]
    fn passages_of_every_day_are_no_finding() {
        for code in [Code::PressureLoss, Code::FlowBeyondRating, Code::DuctMach] {
            assert_eq!(Case::truck().all(code), [], "{code:?}");
            assert_eq!(piped(0.06).all(code), [], "{code:?}");
        }
    }

    #[test]
    fn a_part_that_takes_much_of_the_pressure_is_near_and_one_that_takes_half_over() {
        let near = filtered(15e3, 0.26).one(Code::PressureLoss);
        assert_eq!(near.severity, Severity::Near);
        assert_eq!(near.subject, Subject::Passive(PassivePart::Filter, 0));
        let site = Case::truck().installation.site.pressure;
        assert_relative_eq!(near.value.unwrap(), 15e3 / site, max_relative = 1e-3);
        let over = filtered(45e3, 0.26).one(Code::PressureLoss);
        assert_eq!((over.severity, over.limit), (Severity::Over, Some(0.5)));
    }

    #[test]
    fn a_cooler_and_an_exhaust_pipe_take_pressure_too() {
        let mut case = Case::truck();
        case.found.coolers[0].pressure_drop = 60e3;
        assert_eq!(case.one(Code::PressureLoss).subject, Subject::Cooler(0));
        let mut case = Case::truck();
        let site = case.installation.site.pressure;
        case.station(StationPlace::TurbineOutlet(0)).pressure = 2.1 * site;
        let found = case.one(Code::PressureLoss);
        assert_eq!(found.subject, Subject::Passive(PassivePart::ExhaustPipe, 0));
        assert_eq!(found.severity, Severity::Over);
    }

    #[test]
    fn a_drop_rated_at_a_fraction_of_the_flow_is_carried_far() {
        let near = filtered(10.0, 0.065).one(Code::FlowBeyondRating);
        assert_eq!(near.severity, Severity::Near);
        assert_relative_eq!(near.value.unwrap(), 4.0, max_relative = 1e-12);
        let beyond = filtered(1.0, 0.02).one(Code::FlowBeyondRating);
        assert_eq!(beyond.severity, Severity::OutsideData);
    }

    /// 0.26 kg/s of 2.831 kg/m³ through 22 mm: 241.6 m/s by hand, sound at 364.4 m/s.
    #[test]
    fn air_that_nears_the_speed_of_sound_in_a_pipe_is_found() {
        let over = piped(0.022).one(Code::DuctMach);
        assert_eq!(over.severity, Severity::Over);
        assert_relative_eq!(over.value.unwrap(), 241.6 / 364.4, max_relative = 2e-3);
        let near = piped(0.028).one(Code::DuctMach);
        assert_eq!(near.severity, Severity::Near);
        assert_eq!(near.subject, Subject::Passive(PassivePart::Duct, 0));
    }
}
