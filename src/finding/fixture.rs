//! An invented truck with a match written down by hand, so that each finding can be provoked
//! without solving.

use std::sync::Arc;

use super::catalogue::Code;
use super::detail::Extra;
use super::entry::Finding;
use super::of_match::of_match;
use crate::air_path::{
    Arrangement, CompressorPerformance, Core, CorePassage, CoreSizes, Filling, Fin, FinKind, Part,
    SuperchargerKind,
};
use crate::exhaust::Swallowing;
use crate::input::{self, Document};
use crate::map::{
    CompressorMap, CompressorRow, CorrectedFlow, CorrectedSpeed, Reference, SuperchargerMap,
    SuperchargerRow, TurbineMap, TurbineRow,
};
use crate::matching::{
    BypassState, CoolerState, Drive, EngineState, ExhaustSide, GateState, Installation, Layout,
    Limits, Match, StageState, StationPlace, StationState, TurbineState,
};

/// An installation, a match of it, and what else is known.
pub(crate) struct Case {
    pub installation: Installation,
    pub layout: Layout,
    pub found: Match,
    pub extra: Extra,
}

impl Case {
    /// Past the hand-over at 2600 rpm: bypass open, the turbo blows, the gate shut.
    pub fn truck() -> Self {
        let installation = truck();
        let layout = Layout::new(&installation.air_path, ExhaustSide::Turbines(1));
        let site = installation.site.pressure;
        let found = Match {
            rpm: 2600.0,
            air_mass_flow: 0.26,
            fuel_mass_flow: Some(0.0118),
            air_fuel_ratio: Some(22.0),
            lambda: Some(1.52),
            // ambient, supercharger in and out, compressor in and out, cooler out, manifold,
            // turbine in and out
            stations: vec![
                station(site, 297.15),
                station(site - 1.5e3, 297.15),
                station(site - 1.5e3, 300.0),
                station(site - 1.5e3, 300.0),
                station(272e3, 430.0),
                station(268.5e3, 330.3625),
                station(268.5e3, 330.3625),
                station(250e3, 980.0),
                station(site, 850.0),
            ],
            stages: vec![stage(Drive::Belt, 1.0), stage(Drive::Turbine, 3.2)],
            coolers: vec![CoolerState {
                effectiveness: 0.75,
                heat: 26e3,
                pressure_drop: 3.5e3,
                density_gain: 1.28,
                sink_temperature: 297.15,
                inlet_temperature: 430.0,
                outlet_temperature: 330.3625,
                exchanger: None,
                flow_limit: None,
                unconfirmed: false,
            }],
            engine: EngineState {
                volumetric_efficiency: 0.9,
                peak_cylinder_pressure: Some(15e6),
                ..EngineState::default()
            },
            turbines: vec![TurbineState {
                expansion_ratio: 2.9,
                mass_flow: 0.27,
                power: 38e3,
                efficiency: 0.68,
                wastegate_share: Some(0.0),
                gate: GateState::Shut,
                choked: false,
            }],
            ..Match::default()
        };
        Self {
            installation,
            layout,
            found,
            extra: Extra::default(),
        }
    }

    /// The same with a map of the compressor.
    pub fn with_map() -> Self {
        let mut case = Self::truck();
        if let Part::TurboCompressor(turbo) = &mut case.installation.air_path[2] {
            turbo.performance = CompressorPerformance::Map;
            turbo.map = Some(Arc::new(map()));
        }
        case
    }

    /// Gives rotors and turbine maps of their own.
    pub fn maps_of_rotors_and_turbine(&mut self) {
        if let Part::Supercharger(stage) = &mut self.installation.air_path[1]
            && let SuperchargerKind::Displacement(machine) = &mut stage.kind
        {
            machine.filling = Filling::Map(Arc::new(rotor_map()));
        }
        self.installation.turbines[0].swallowing = Swallowing::Map(Arc::new(turbine_map()));
    }

    /// Puts the compressor on a corrected speed, rpm, and flow, kg/s, of its map.
    pub fn on_map(&mut self, speed: f64, flow: f64) {
        let Part::TurboCompressor(turbo) = &self.installation.air_path[2] else {
            return;
        };
        let map = turbo.map.as_ref().expect("a case with a map");
        let point = map.at_speed_and_flow(CorrectedSpeed(speed), CorrectedFlow(flow));
        let state = &mut self.found.stages[1];
        state.pressure_ratio = point.pressure_ratio;
        state.corrected_flow = Some(flow);
        state.corrected_speed = Some(speed);
        state.speed = Some(speed);
    }

    /// Lets the supercharger set the flow at a pressure ratio.
    pub fn deliver(&mut self, pressure_ratio: f64) {
        self.found.stages[0].pressure_ratio = pressure_ratio;
        self.found.stages[0].bypass = BypassState::Shut;
    }

    /// Sets what the gate does.
    pub fn gate(&mut self, gate: GateState, share: f64) {
        self.found.turbines[0].gate = gate;
        self.found.turbines[0].wastegate_share = Some(share);
        if gate == GateState::Holding {
            self.station(StationPlace::Manifold).pressure = self.boost_limit();
        }
    }

    /// The gate's limit as an absolute pressure, Pa.
    pub fn boost_limit(&self) -> f64 {
        let gate = self.installation.turbines[0].wastegate.as_ref();
        self.installation.site.pressure + gate.expect("a gate").boost_limit.at(self.found.rpm)
    }

    /// A station's state.
    pub fn station(&mut self, place: StationPlace) -> &mut StationState {
        let at = self.layout.stations.iter().position(|s| s.place == place);
        &mut self.found.stations[at.expect("a station of the truck")]
    }

    /// All findings with a code.
    pub fn all(&self, code: Code) -> Vec<Finding> {
        of_match(&self.installation, &self.layout, &self.found, &self.extra)
            .into_iter()
            .filter(|finding| finding.code == code)
            .collect()
    }

    /// The only finding with a code.
    pub fn one(&self, code: Code) -> Finding {
        let all = self.all(code);
        assert_eq!(all.len(), 1, "{code:?} in {all:?}");
        all[0]
    }
}

fn station(pressure: f64, temperature: f64) -> StationState {
    StationState {
        pressure,
        temperature,
        density: pressure / (287.05 * temperature),
        enthalpy: 1005.0 * (temperature - 298.15),
        mass_flow: 0.26,
    }
}

fn stage(drive: Drive, pressure_ratio: f64) -> StageState {
    let is_belt = drive == Drive::Belt;
    StageState {
        drive,
        pressure_ratio,
        efficiency: None,
        mass_flow: 0.26,
        outlet_temperature: 400.0,
        power_to_air: 0.0,
        shaft_power: None,
        crank_power: None,
        speed: Some(if is_belt { 5590.0 } else { 120e3 }),
        tip_speed: None,
        belt: None,
        corrected_flow: None,
        corrected_speed: None,
        split_share: None,
        bypass_share: is_belt.then_some(0.3),
        bypass: if is_belt {
            BypassState::Open
        } else {
            BypassState::None
        },
    }
}

/// An invented core with offset strips and louvres.
pub(crate) fn core() -> Core {
    let fin = |pitch, kind| {
        Some(Fin {
            pitch,
            thickness: 0.1e-3,
            kind,
        })
    };
    let louvres = FinKind::Louvred {
        pitch: 1.2e-3,
        angle: 27.0,
        length: 6.8e-3,
    };
    let sizes = CoreSizes {
        arrangement: Arrangement::CrossflowUnmixed,
        width: 0.45,
        height: 0.30,
        depth: 0.055,
        wall: 0.5e-3,
        conductivity: 180.0,
        charge: CorePassage {
            height: 6.5e-3,
            fin: fin(2e-3, FinKind::Offset { length: 3e-3 }),
        },
        sink: CorePassage {
            height: 8e-3,
            fin: fin(1.8e-3, louvres),
        },
        beside: 1.0,
        conductance_factor: 1.0,
    };
    Core::new(&sizes).expect("sizes of a core")
}

/// An invented map: five speeds from 80 000 to 140 000 rpm, flow with the speed, head with its square.
fn map() -> CompressorMap {
    let mut rows = Vec::new();
    for speed in [80e3, 95e3, 110e3, 125e3, 140e3] {
        let n: f64 = speed / 140e3;
        for (flow, rise, efficiency) in [
            (0.12, 2.10, 0.66),
            (0.16, 2.00, 0.73),
            (0.20, 1.70, 0.74),
            (0.24, 1.10, 0.64),
        ] {
            rows.push(CompressorRow {
                speed,
                flow: flow * n,
                pressure_ratio: 1.0 + rise * n * n,
                efficiency,
            });
        }
    }
    let reference = Reference {
        temperature: 298.15,
        pressure: 100e3,
    };
    CompressorMap::new(reference, &rows).expect("a map without faults")
}

/// An invented map of rotors: 3000 to 8000 rpm, ratios 1 to 2.
fn rotor_map() -> SuperchargerMap {
    let mut rows = Vec::new();
    for (speed, best) in [(3000.0, 0.90), (5500.0, 0.93), (8000.0, 0.95)] {
        for (pressure_ratio, loss) in [(1.0, 0.0), (1.4, 0.06), (2.0, 0.15)] {
            rows.push(SuperchargerRow {
                speed,
                pressure_ratio,
                volumetric_efficiency: best - loss,
                efficiency: 0.6,
            });
        }
    }
    SuperchargerMap::new(&rows).expect("a map without faults")
}

/// An invented map of a turbine: 80 000 to 140 000 rpm, expansion ratios 1.3 to 3.
fn turbine_map() -> TurbineMap {
    let mut rows = Vec::new();
    for speed in [80e3, 110e3, 140e3] {
        for (expansion_ratio, flow) in [(1.3, 0.20), (2.0, 0.26), (3.0, 0.28)] {
            rows.push(TurbineRow {
                speed,
                expansion_ratio,
                flow,
                efficiency: 0.68,
            });
        }
    }
    let reference = Reference {
        temperature: 980.0,
        pressure: 100e3,
    };
    TurbineMap::new(reference, &rows).expect("a map without faults")
}

/// The invented hill-climb truck with one compressor efficiency, without limits.
fn truck() -> Installation {
    let text = include_str!("../../tests/builds/hill_climb_diesel.toml");
    let document = Document::from_text("hill_climb_diesel.toml", text);
    let outcome = input::read(&document, &[], &|_| panic!("it names no map"));
    let limits = Limits::default();
    Installation {
        limits,
        ..outcome.installation.expect("a build without fault")
    }
}
