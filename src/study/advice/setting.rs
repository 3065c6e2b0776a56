//! The settings of a build that advice may change, and which of them a finding asks for.

use crate::air_path::{Bypass, CompressorPerformance, Part, SuperchargerKind};
use crate::engine::Fuelling;
use crate::exhaust::{GateOpening, Swallowing};
use crate::finding::{BoostSource, Code, Detail, Finding, Lever, Severity, Subject};
use crate::matching::{GateState, Installation, Layout, Match};
use crate::numeric::Schedule;

/// Most of the exhaust that any gate passes: the wheel stands still beyond it.
const LARGEST_SHARE: f64 = 0.95;

/// One setting that can be multiplied by a factor.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting {
    pub lever: Lever,
    /// Its place among the parts, or among the turbines.
    place: usize,
    /// Of several of a kind which one.
    pub which: usize,
    /// As it is, at the finding's speed.
    pub now: f64,
    /// Whether it is a table over engine speed.
    pub is_table: bool,
    /// Smallest and largest factor.
    pub range: (f64, f64),
}

impl Setting {
    /// A single value as it is, between a tenth and ten times of it.
    fn new(lever: Lever, place: usize, now: f64) -> Self {
        Self {
            lever,
            place,
            which: 0,
            now,
            is_table: false,
            range: (0.1, 10.0),
        }
    }

    /// The effectiveness of a cooler, counted in flow order.
    pub fn effectiveness(layout: &Layout, cooler: usize, now: f64) -> Option<Self> {
        let (_, part) = layout.coolers.get(cooler)?;
        Some(Self {
            lever: Lever::Effectiveness,
            place: *part,
            which: cooler,
            now,
            is_table: false,
            range: (0.0, 1.0 / now),
        })
    }

    /// The installation with this setting times a factor; the others as they are.
    pub fn applied(&self, installation: &Installation, factor: f64) -> Installation {
        let mut other = installation.clone();
        let scaled = |table: &Schedule| table.mapped(|value| value * factor);
        match self.lever {
            Lever::DriveRatio | Lever::PressureRatio | Lever::BypassPressure => {
                if let Some(part) = other.air_path.get_mut(self.place) {
                    scale_stage(self.lever, part, factor);
                }
            }
            Lever::Effectiveness => {
                if let Some(Part::Cooler(cooler)) = other.air_path.get_mut(self.place) {
                    *cooler = cooler.with_effectiveness(self.now * factor);
                }
            }
            Lever::BoostLimit | Lever::GateShare | Lever::ValveDiameter | Lever::TurbineArea => {
                let Some(turbine) = other.turbines.get_mut(self.place) else {
                    return other;
                };
                if let (Lever::TurbineArea, Swallowing::Area { effective_area, .. }) =
                    (self.lever, &mut turbine.swallowing)
                {
                    *effective_area *= factor;
                }
                if let Some(gate) = &mut turbine.wastegate {
                    match (self.lever, &mut gate.opening) {
                        (Lever::BoostLimit, _) => gate.boost_limit = scaled(&gate.boost_limit),
                        (Lever::GateShare, GateOpening::LargestShare(size))
                        | (Lever::ValveDiameter, GateOpening::ValveDiameter(size)) => {
                            *size *= factor;
                        }
                        _ => {}
                    }
                }
            }
            Lever::AirFuelRatio
            | Lever::Lambda
            | Lever::FuelPerStroke
            | Lever::FuelFlow
            | Lever::SmallestAirFuelRatio => {
                if let Some(fuel) = &mut other.fuel {
                    match (self.lever, &mut fuel.burned) {
                        (
                            Lever::SmallestAirFuelRatio,
                            Fuelling::PerStroke {
                                smallest_air_fuel_ratio: Some(table),
                                ..
                            },
                        )
                        | (
                            _,
                            Fuelling::AirFuelRatio(table)
                            | Fuelling::Lambda(table)
                            | Fuelling::Flow(table)
                            | Fuelling::PerStroke { mass: table, .. },
                        ) => *table = scaled(table),
                    }
                }
            }
        }
        other
    }
}

fn scale_stage(lever: Lever, part: &mut Part, factor: f64) {
    let given = match part {
        Part::Supercharger(stage) => {
            if let (Lever::BypassPressure, Bypass::Regulated { pressure, .. }) =
                (lever, &mut stage.bypass)
            {
                *pressure *= factor;
            }
            match &mut stage.kind {
                SuperchargerKind::Displacement(machine) if lever == Lever::DriveRatio => {
                    machine.belt.ratio *= factor;
                    return;
                }
                SuperchargerKind::Centrifugal(machine) if lever == Lever::DriveRatio => {
                    machine.belt.ratio *= factor;
                    return;
                }
                SuperchargerKind::Prescribed(given) => given,
                _ => return,
            }
        }
        Part::TurboCompressor(turbo) => match &mut turbo.performance {
            CompressorPerformance::Prescribed(given) => given,
            _ => return,
        },
        _ => return,
    };
    if lever == Lever::PressureRatio {
        given.pressure_ratio = given.pressure_ratio.mapped(|ratio| ratio * factor);
    }
}

/// The settings that a finding asks for, the first to be tried first. `at` is the match at its speed.
pub(super) fn of(
    installation: &Installation,
    layout: &Layout,
    at: &Match,
    finding: &Finding,
) -> Vec<Setting> {
    let build = Build {
        installation,
        layout,
        at,
    };
    let stage = match finding.subject {
        Subject::Stage(index) => Some(index),
        Subject::Station(index) => build.stage_at(index),
        _ => None,
    };
    let turbine = match finding.subject {
        Subject::Turbine(index) => index,
        _ => 0,
    };
    match finding.code {
        Code::ManifoldPressure
        | Code::CylinderPressure
        | Code::ClampMargin
        | Code::Knock
        | Code::ManifoldFarAboveSite => build.boost(finding.detail),
        Code::ExhaustTemperature | Code::ExhaustBeyondMaterial | Code::DieselSmoke
            // Richer or leaner than burns hottest: past that, less fuel is more heat.
            if at.lambda.is_none_or(|lambda| lambda >= 1.0) =>
        {
            build.fuel()
        }
        // Rich on purpose is nothing to mend.
        Code::RichMixture if finding.severity == Severity::Over => build.fuel(),
        Code::DrivePressureRatio => build.area(0).into_iter().collect(),
        // What is hot already ahead of it comes from the supercharger.
        Code::CompressorOutletTemperature => stage
            .map_or_else(Vec::new, |stage| build.stage(stage))
            .into_iter()
            .chain(build.first_drive_ratio())
            .collect(),
        Code::SuperchargerOutletTemperature
        | Code::StagePressureRatio
        | Code::SurgeMargin
        | Code::TurboSpeed => stage.map_or_else(Vec::new, |stage| build.stage(stage)),
        Code::SuperchargerSpeed | Code::TipSpeed | Code::BeltPull => stage
            .and_then(|stage| build.drive_ratio(stage))
            .into_iter()
            .collect(),
        Code::SuperchargerAboveBoostLimit | Code::LimitInSuperchargerBand => {
            build.first_drive_ratio().into_iter().collect()
        }
        Code::WastegateTooSmall => build.gate(turbine).into_iter().chain(build.area(turbine)).collect(),
        Code::WastegateWideOpen => build
            .gate(turbine)
            .into_iter()
            .chain(build.first_drive_ratio())
            .chain(build.area(turbine))
            .collect(),
        _ => Vec::new(),
    }
}

/// A build at one speed.
struct Build<'a> {
    installation: &'a Installation,
    layout: &'a Layout,
    at: &'a Match,
}

impl Build<'_> {
    fn table(&self, lever: Lever, place: usize, table: &Schedule) -> Setting {
        Setting {
            is_table: table.rows().len() > 1,
            ..Setting::new(lever, place, table.at(self.at.rpm))
        }
    }

    fn part_of(&self, stage: usize) -> Option<(usize, &Part)> {
        let (_, part) = self.layout.stages.get(stage)?;
        Some((*part, self.installation.air_path.get(*part)?))
    }

    /// The stage whose outlet a station is.
    fn stage_at(&self, station: usize) -> Option<usize> {
        let place = self.layout.stations.get(station)?.place;
        let outlet = crate::matching::StationPlace::After;
        let mut stages = self.layout.stages.iter();
        stages.position(|(_, part)| place == outlet(*part))
    }

    /// Which of the superchargers a part is.
    fn number(&self, part: usize) -> usize {
        let is_one = |part: &&Part| matches!(part, Part::Supercharger(_));
        self.installation.air_path[..part]
            .iter()
            .filter(is_one)
            .count()
    }

    fn drive_ratio(&self, stage: usize) -> Option<Setting> {
        let (place, Part::Supercharger(supercharger)) = self.part_of(stage)? else {
            return None;
        };
        Some(Setting {
            which: self.number(place),
            ..Setting::new(Lever::DriveRatio, place, supercharger.belt()?.ratio)
        })
    }

    fn first_drive_ratio(&self) -> Option<Setting> {
        (0..self.layout.stages.len()).find_map(|stage| self.drive_ratio(stage))
    }

    fn bypass(&self, stage: usize) -> Option<Setting> {
        let (place, Part::Supercharger(supercharger)) = self.part_of(stage)? else {
            return None;
        };
        let Bypass::Regulated { pressure, .. } = supercharger.bypass else {
            return None;
        };
        Some(Setting {
            which: self.number(place),
            ..Setting::new(Lever::BypassPressure, place, pressure)
        })
    }

    fn given_ratio(&self, stage: usize) -> Option<Setting> {
        let (place, part) = self.part_of(stage)?;
        let setting = self.table(Lever::PressureRatio, place, part.given_ratio()?);
        Some(Setting {
            range: (1.0 / setting.now, 10.0),
            ..setting
        })
    }

    fn boost_limit(&self, turbine: usize) -> Option<Setting> {
        let gate = self
            .installation
            .turbines
            .get(turbine)?
            .wastegate
            .as_ref()?;
        Some(Setting {
            which: turbine,
            ..self.table(Lever::BoostLimit, turbine, &gate.boost_limit)
        })
    }

    /// The gate's size.
    fn gate(&self, turbine: usize) -> Option<Setting> {
        let gate = self
            .installation
            .turbines
            .get(turbine)?
            .wastegate
            .as_ref()?;
        let setting = match gate.opening {
            GateOpening::LargestShare(share) => Setting {
                range: (0.1, LARGEST_SHARE / share),
                ..Setting::new(Lever::GateShare, turbine, share)
            },
            GateOpening::ValveDiameter(diameter) => Setting {
                range: (0.1, 4.0),
                ..Setting::new(Lever::ValveDiameter, turbine, diameter)
            },
        };
        Some(Setting {
            which: turbine,
            ..setting
        })
    }

    fn area(&self, turbine: usize) -> Option<Setting> {
        match self.installation.turbines.get(turbine)?.swallowing {
            Swallowing::Area { effective_area, .. } => Some(Setting {
                which: turbine,
                ..Setting::new(Lever::TurbineArea, turbine, effective_area)
            }),
            Swallowing::Map(_) => None,
        }
    }

    /// What drives a stage: its pulley, its gate and turbine, or its given ratio.
    fn stage(&self, stage: usize) -> Vec<Setting> {
        let Some((place, part)) = self.part_of(stage) else {
            return Vec::new();
        };
        if let Some(setting) = self.given_ratio(stage) {
            return vec![setting];
        }
        if let Part::Supercharger(_) = part {
            return self.drive_ratio(stage).into_iter().collect();
        }
        let is_compressor = |part: &&Part| matches!(part, Part::TurboCompressor(_));
        let parts = &self.installation.air_path[..place];
        let number = parts.iter().filter(is_compressor).count();
        let mut turbines = self.installation.turbines.iter();
        let Some(turbine) = turbines.position(|turbine| turbine.drives == number) else {
            return Vec::new();
        };
        self.boost_limit(turbine)
            .into_iter()
            .chain(self.area(turbine))
            .collect()
    }

    /// What makes the manifold pressure at this speed.
    fn boost(&self, detail: Detail) -> Vec<Setting> {
        let source = match detail {
            Detail::Boost(source) => Some(source),
            _ => None,
        };
        let holding = || {
            let mut gates = self.at.turbines.iter();
            gates.position(|turbine| turbine.gate == GateState::Holding)
        };
        match source {
            Some(BoostSource::Gate(gate)) => self.boost_limit(gate).into_iter().collect(),
            Some(BoostSource::Bypass(stage)) => self.bypass(stage).into_iter().collect(),
            Some(BoostSource::Supercharger(stage)) => self.drive_ratio(stage).into_iter().collect(),
            Some(BoostSource::Turbo { stage, .. }) => self.stage(stage),
            Some(BoostSource::Other) => (0..self.layout.stages.len())
                .filter_map(|stage| self.given_ratio(stage))
                .collect(),
            None => match holding() {
                Some(gate) => self.boost_limit(gate).into_iter().collect(),
                None => (0..self.layout.stages.len())
                    .rev()
                    .flat_map(|stage| self.stage(stage))
                    .collect(),
            },
        }
    }

    /// How much fuel is burned. Where a smoke limiter sets it, the limiter.
    fn fuel(&self) -> Vec<Setting> {
        let Some(fuel) = &self.installation.fuel else {
            return Vec::new();
        };
        let setting = match &fuel.burned {
            Fuelling::AirFuelRatio(table) => self.table(Lever::AirFuelRatio, 0, table),
            Fuelling::Lambda(table) => self.table(Lever::Lambda, 0, table),
            Fuelling::Flow(table) => self.table(Lever::FuelFlow, 0, table),
            Fuelling::PerStroke {
                smallest_air_fuel_ratio: Some(table),
                ..
            } if self.at.at_smoke_limit => self.table(Lever::SmallestAirFuelRatio, 0, table),
            Fuelling::PerStroke { mass, .. } => self.table(Lever::FuelPerStroke, 0, mass),
        };
        vec![setting]
    }
}
