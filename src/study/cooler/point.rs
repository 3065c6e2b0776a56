//! One cooler at one speed: what it does, and what the engine would do without it.

use crate::matching::{
    CoolerState, Layout, Match, MatchError, Neighbour, StationPlace, StationState,
};

/// One cooler in one match. SI.
#[derive(Debug, Clone, PartialEq)]
pub struct CoolerPoint {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// What the cooler does.
    pub state: CoolerState,
    /// Flow of the charge through it, kg/s.
    pub charge_flow: f64,
    /// Absolute pressure of the charge ahead of it, Pa.
    pub inlet_pressure: f64,
    /// Density of the charge ahead of it, kg/m³.
    pub inlet_density: f64,
    /// Density of the charge behind it, kg/m³.
    pub outlet_density: f64,
    /// What it brings to the engine.
    pub engine: EngineSide,
    /// Where the match stands, to start others from.
    pub place: Option<Neighbour>,
    /// The same speed matched anew with the cooler taken out entirely, or why there is no match.
    pub without: Result<EngineSide, MatchError>,
}

/// What has to be known of a cooler at one speed to size it. SI.
#[derive(Debug, Clone, Copy)]
pub(in crate::study) struct AtSpeed {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// What the cooler does.
    pub state: CoolerState,
    /// Flow of the charge through it, kg/s.
    pub charge_flow: f64,
    /// Density of the charge at its inlet, kg/m³.
    pub inlet_density: f64,
    /// Charge temperature in the manifold, K.
    pub charge_temperature: f64,
    /// Where the match stands, to start others from.
    pub place: Option<Neighbour>,
}

impl AtSpeed {
    /// A cooler (counted in flow order) in a match.
    pub fn new(layout: &Layout, found: &Match, cooler: usize) -> Option<Self> {
        let state = *found.coolers.get(cooler)?;
        let (_, part) = layout.coolers.get(cooler)?;
        let outlet = found.station(layout, StationPlace::After(*part))?;
        Some(Self {
            rpm: found.rpm,
            state,
            charge_flow: outlet.mass_flow,
            inlet_density: outlet.density / state.density_gain,
            charge_temperature: manifold(layout, found)?.temperature,
            place: found.place,
        })
    }
}

/// What the engine gets at one speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EngineSide {
    /// Flow of moist air, kg/s.
    pub air_mass_flow: f64,
    /// Charge temperature in the manifold, K.
    pub charge_temperature: f64,
    /// Absolute manifold pressure, Pa.
    pub manifold_pressure: f64,
    /// Density in the manifold, kg/m³.
    pub manifold_density: f64,
    /// Brake power, W, where it is known.
    pub brake_power: Option<f64>,
}

/// Below this difference between charge and sink nothing is said of a conductance, K.
const NO_DIFFERENCE: f64 = 1e-6;

impl CoolerPoint {
    /// A cooler (counted in flow order) in a match.
    pub(super) fn new(
        layout: &Layout,
        found: &Match,
        cooler: usize,
        without: Result<EngineSide, MatchError>,
    ) -> Option<Self> {
        let state = *found.coolers.get(cooler)?;
        let (_, part) = layout.coolers.get(cooler)?;
        let outlet = found.station(layout, StationPlace::After(*part))?;
        Some(Self {
            rpm: found.rpm,
            state,
            charge_flow: outlet.mass_flow,
            inlet_pressure: outlet.pressure + state.pressure_drop,
            inlet_density: outlet.density / state.density_gain,
            outlet_density: outlet.density,
            engine: EngineSide::new(layout, found)?,
            place: found.place,
            without,
        })
    }

    /// What sizing needs of it.
    pub(in crate::study) fn at_speed(&self) -> AtSpeed {
        AtSpeed {
            rpm: self.rpm,
            state: self.state,
            charge_flow: self.charge_flow,
            inlet_density: self.inlet_density,
            charge_temperature: self.engine.charge_temperature,
            place: self.place,
        }
    }

    /// How far the charge leaves above the sink's inlet, K.
    pub fn approach(&self) -> f64 {
        self.state.outlet_temperature - self.state.sink_temperature
    }

    /// Density gain that the temperatures alone would give: the pressure drop takes the rest.
    pub fn density_gain_without_drop(&self) -> f64 {
        self.state.inlet_temperature / self.state.outlet_temperature
    }

    /// Mean capacity flow of the charge, W/K: heat over the temperature that it loses. `None` where
    /// it loses none.
    pub fn capacity_flow(&self) -> Option<f64> {
        let fall = self.state.inlet_temperature - self.state.outlet_temperature;
        (fall.abs() > NO_DIFFERENCE).then(|| self.state.heat / fall)
    }

    /// UA (W/K) and transfer units of an effectiveness whose sink is not told of, were the sink so
    /// plentiful that it does not warm: the least that could do it, 1 − e^(−NTU) of a capacity
    /// ratio of 0 (Kays & London, table 2-2, from memory). `None` where the exchanger is known, or
    /// the effectiveness has no finite size.
    pub fn least_size(&self) -> Option<(f64, f64)> {
        if self.state.exchanger.is_some() {
            return None;
        }
        let units = least_transfer_units(self.state.effectiveness)?;
        Some((units * self.capacity_flow()?, units))
    }

    /// More air on this engine through the cooler, a share; none where there is no match without it.
    pub fn air_gain(&self) -> Option<f64> {
        let without = self.without.as_ref().ok()?;
        Some(self.engine.air_mass_flow / without.air_mass_flow - 1.0)
    }

    /// More brake power through the cooler, W.
    pub fn power_gain(&self) -> Option<f64> {
        let without = self.without.as_ref().ok()?;
        Some(self.engine.brake_power? - without.brake_power?)
    }
}

/// Transfer units of an effectiveness at a capacity ratio of 0.
pub fn least_transfer_units(effectiveness: f64) -> Option<f64> {
    (effectiveness > 0.0 && effectiveness < 1.0).then(|| -(-effectiveness).ln_1p())
}

impl EngineSide {
    /// What the engine gets in a match.
    pub fn new(layout: &Layout, found: &Match) -> Option<Self> {
        let manifold = manifold(layout, found)?;
        Some(Self {
            air_mass_flow: found.air_mass_flow,
            charge_temperature: manifold.temperature,
            manifold_pressure: manifold.pressure,
            manifold_density: manifold.density,
            brake_power: found.engine.brake_power,
        })
    }
}

/// The state in the manifold.
pub(super) fn manifold<'a>(layout: &Layout, found: &'a Match) -> Option<&'a StationState> {
    found.station(layout, StationPlace::Manifold)
}
