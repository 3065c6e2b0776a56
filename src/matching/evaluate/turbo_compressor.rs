//! Turbo compressors.

use super::evaluation::{Evaluation, Infeasible};
use crate::air_path::{
    AirState, CompressorPerformance, TurboCompressor, compress_by, isentropic_rise,
};
use crate::gas::Gas;
use crate::map::{CompressorMap, CorrectedFlow, CorrectedSpeed, MapPoint};

/// Pressure ratio above which a compressor's work is reckoned from its efficiency alone.
const FULL_COMPRESSION: f64 = 1.05;
/// Lowest pressure ratio that a trial on a map may have.
const LOWEST_RATIO: f64 = 0.01;

impl Evaluation<'_, '_> {
    pub(super) fn turbo_compressor(
        &mut self,
        turbo: &TurboCompressor,
        inlet: &AirState,
    ) -> Result<AirState, Infeasible> {
        let rpm = self.setup.rpm;
        match &turbo.performance {
            CompressorPerformance::Prescribed(given) => {
                let ratio = given.pressure_ratio.at(rpm);
                match (&given.efficiency, &turbo.map) {
                    (Some(table), _) => {
                        let outlet = self.prescribed(inlet, ratio, table.at(rpm))?;
                        if let Some(map) = &turbo.map {
                            self.note_corrected(inlet, map, None);
                        }
                        Ok(outlet)
                    }
                    (None, Some(map)) => {
                        let wanted = CorrectedFlow::from_actual(
                            self.flow,
                            inlet.pressure,
                            inlet.temperature,
                            map.reference(),
                        );
                        let point = map.at_flow_and_ratio(wanted, ratio);
                        let outlet = self.prescribed(inlet, ratio, point.efficiency)?;
                        self.note_corrected(inlet, map, Some(point.speed.0));
                        Ok(outlet)
                    }
                    (None, None) => self.prescribed(inlet, ratio, 1.0),
                }
            }
            CompressorPerformance::Efficiency(table) => {
                let ratio = self.climb_of_this_stage().exp();
                self.prescribed(inlet, ratio, table.at(rpm))
            }
            CompressorPerformance::Map => match &turbo.map {
                Some(map) => self.on_the_map(map, inlet),
                None => Err(Infeasible::FlowTooSmall),
            },
        }
    }

    /// Notes the corrected flow and speed of the stage just noted.
    fn note_corrected(
        &mut self,
        inlet: &AirState,
        map: &CompressorMap,
        corrected_speed: Option<f64>,
    ) {
        let reference = map.reference();
        let flow =
            CorrectedFlow::from_actual(self.flow, inlet.pressure, inlet.temperature, reference);
        if let Some(noted) = self.record.stages.last_mut() {
            noted.corrected_flow = Some(flow.0);
            noted.corrected_speed = corrected_speed;
            noted.speed = corrected_speed
                .map(|speed| CorrectedSpeed(speed).to_actual(inlet.temperature, reference));
        }
    }

    fn on_the_map(
        &mut self,
        map: &CompressorMap,
        inlet: &AirState,
    ) -> Result<AirState, Infeasible> {
        let variable = self.take_variable();
        let rpm = self.climb_of_this_stage() * map.speeds().1.0;
        let reference = map.reference();
        let speed = CorrectedSpeed::from_actual(rpm, inlet.temperature, reference);
        let wanted =
            CorrectedFlow::from_actual(self.flow, inlet.pressure, inlet.temperature, reference);
        if self.finds_places {
            self.trial.x[variable] = map.at_speed_and_flow(speed, wanted).place;
        }
        let point = map.at_speed_and_place(speed, self.trial.x[variable]);
        self.balances[variable] = if self.is_explicit {
            0.0
        } else {
            point.flow.0 / wanted.0 - 1.0
        };
        if point.pressure_ratio.is_nan() || point.pressure_ratio <= LOWEST_RATIO {
            return Err(Infeasible::FlowTooLarge);
        }
        let gas = &self.setup.gas;
        let rise = enthalpy_rise_on_map(gas, inlet, map, &point).ok_or(Infeasible::FlowTooSmall)?;
        let outlet = compress_by(gas, inlet, point.pressure_ratio, rise)
            .map_err(|_| Infeasible::FlowTooSmall)?;
        let noted = self.note(inlet, outlet, self.flow, self.flow * rise);
        noted.speed = Some(rpm);
        noted.corrected_flow = Some(wanted.0);
        noted.corrected_speed = Some(speed.0);
        Ok(outlet)
    }

    /// The climb of the turbine that drives the stage about to be noted.
    fn climb_of_this_stage(&self) -> f64 {
        let part = self.record.behind.len();
        let turbine = self.setup.driven.iter().find(|driven| driven.part == part);
        turbine.map_or(0.0, |turbine| self.trial.x[turbine.climb])
    }
}

/// Enthalpy rise in J/kg of a compressor at a point of its map: the isentropic rise over the
/// efficiency where it compresses, the map's work carried to the inlet temperature where it hardly
/// does, and a straight blend between.
pub(super) fn enthalpy_rise_on_map(
    gas: &Gas,
    inlet: &AirState,
    map: &CompressorMap,
    point: &MapPoint,
) -> Option<f64> {
    let by_work = point.work * inlet.temperature / map.reference().temperature;
    if point.pressure_ratio <= 1.0 {
        return Some(by_work);
    }
    let by_efficiency = isentropic_rise(gas, inlet, point.pressure_ratio).ok()? / point.efficiency;
    let share = ((point.pressure_ratio - 1.0) / (FULL_COMPRESSION - 1.0)).min(1.0);
    Some(by_work + share * (by_efficiency - by_work))
}
