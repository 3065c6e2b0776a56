//! A cooler from the geometry of its core: layers of charge and sink in turn, with plates or tube
//! walls between them. The charge runs along the width, the sink along the depth, and the layers
//! lie on each other along the height.
//!
//! ```text
//!            width: the charge runs this way →
//!          ┌──────────────────────────────────┐
//!          │ sink fins   (flow into the page) │
//!  height  │ charge                           │
//!          │ sink fins                        │
//!          └──────────────────────────────────┘      depth: into the page
//! ```
//!
//! 1/UA = 1/(η h A)_charge + wall + 1/(η h A)_sink. Left out: fouling, what flows past the fins,
//! end tanks, uneven flow. The number of layers is not rounded, so that sizes may vary smoothly.

mod fins;
mod passage;
mod surface;

pub use fins::{Correlated, FinKind, OutOfRange};
pub use passage::{CorePassage, Fin};

use super::effectiveness::{Arrangement, Side};
use super::fluid::Fluid;
use surface::{CoreSurface, LayerSizes};

/// A core as it is described.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoreSizes {
    /// How the flows pass each other.
    pub arrangement: Arrangement,
    /// Along the charge's flow, m.
    pub width: f64,
    /// Across both flows, m.
    pub height: f64,
    /// Along the sink's flow, m.
    pub depth: f64,
    /// Thickness of a plate or tube wall, m.
    pub wall: f64,
    /// Thermal conductivity of walls and fins, W/(m K).
    pub conductivity: f64,
    /// The charge's layers.
    pub charge: CorePassage,
    /// The sink's layers.
    pub sink: CorePassage,
    /// Such cores side by side; 1 unless a study asks for another face.
    pub beside: f64,
    /// Multiplies both conductances; 1 unless a study asks for more.
    pub conductance_factor: f64,
}

/// Why sizes make no core.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoreError {
    /// The height does not hold one layer of the charge between two of the sink.
    TooLow,
    /// The fins of a side leave no room.
    NoRoom(Side),
    /// A size is not above 0 or not finite.
    Size,
}

/// A core made ready.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Core {
    sizes: CoreSizes,
    charge: CoreSurface,
    sink: CoreSurface,
    /// Resistance of the walls, K/W.
    wall: f64,
}

/// The charge's side at work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ChargeWork {
    /// UA, W/K.
    pub conductance: f64,
    /// Reynolds number of the charge.
    pub reynolds: f64,
    friction: f64,
}

impl Core {
    /// From sizes.
    pub fn new(sizes: &CoreSizes) -> Result<Self, CoreError> {
        check(sizes)?;
        let (charge, sink) = (&sizes.charge, &sizes.sink);
        let layer_pitch = charge.height + sink.height + 2.0 * sizes.wall;
        let layers = (sizes.height - sink.height) / layer_pitch;
        if layers < 1.0 {
            return Err(CoreError::TooLow);
        }
        let (face, conductivity) = (sizes.height * sizes.beside, sizes.conductivity);
        let charge_layers = LayerSizes {
            count: layers * sizes.beside,
            length: sizes.width,
            breadth: sizes.depth,
            frontal: sizes.depth * face,
            layer_pitch,
            conductivity,
        };
        let sink_layers = LayerSizes {
            count: (layers + 1.0) * sizes.beside,
            length: sizes.depth,
            breadth: sizes.width,
            frontal: sizes.width * face,
            layer_pitch,
            conductivity,
        };
        let walls = 2.0 * layers * sizes.beside * sizes.width * sizes.depth;
        Ok(Self {
            sizes: *sizes,
            charge: CoreSurface::new(charge, &charge_layers),
            sink: CoreSurface::new(sink, &sink_layers),
            wall: sizes.wall / (sizes.conductivity * walls),
        })
    }

    /// What it was made from.
    pub const fn sizes(&self) -> &CoreSizes {
        &self.sizes
    }

    /// Face area that the sink meets, m².
    pub fn face_area(&self) -> f64 {
        self.sizes.width * self.sizes.height * self.sizes.beside
    }

    /// Areas that pass heat, m²: the charge's, the sink's.
    pub const fn areas(&self) -> (f64, f64) {
        (self.charge.area, self.sink.area)
    }

    /// Whether a correlation in it was not checked against anything outside.
    pub fn is_unconfirmed(&self) -> bool {
        [&self.sizes.charge, &self.sizes.sink]
            .into_iter()
            .filter_map(|passage| passage.fin)
            .any(|fin| fin.kind.is_unconfirmed())
    }

    /// The first number of a side that leaves its correlation's range, at a Reynolds number of that
    /// side.
    pub fn out_of_range(&self, side: Side, reynolds: f64) -> Option<OutOfRange> {
        let surface = match side {
            Side::Charge => &self.charge,
            Side::Sink => &self.sink,
        };
        let at_work = surface.reynolds_out_of_range(reynolds);
        surface.out_of_range.or(at_work)
    }

    /// η h A in W/K and Reynolds number of the sink's side at a mass flow in kg/s; nothing where it
    /// stands.
    pub(super) fn sink_work(&self, fluid: &Fluid, mass_flow: f64) -> (f64, f64) {
        if mass_flow <= 0.0 {
            return (0.0, 0.0);
        }
        let work = self.sink.work(fluid, mass_flow);
        (work.conductance, work.reynolds)
    }

    /// Pressure drop of the sink in Pa at a mass flow in kg/s, its warming left out.
    pub(super) fn sink_drop(&self, fluid: &Fluid, mass_flow: f64) -> f64 {
        if mass_flow <= 0.0 {
            return 0.0;
        }
        let friction = self.sink.friction(fluid, mass_flow);
        (self.sink).pressure_drop(mass_flow, fluid.density, 1.0, friction)
    }

    /// The charge's side at a mass flow in kg/s above 0, and UA with the sink's η h A in W/K.
    pub(super) fn charge_work(&self, fluid: &Fluid, mass_flow: f64, sink: f64) -> ChargeWork {
        let work = self.charge.work(fluid, mass_flow);
        let conductance = if sink > 0.0 {
            self.sizes.conductance_factor / (1.0 / work.conductance + self.wall + 1.0 / sink)
        } else {
            0.0
        };
        ChargeWork {
            conductance,
            reynolds: work.reynolds,
            friction: work.friction,
        }
    }

    /// Pressure drop of the charge in Pa with the density at its inlet and that over the outlet's.
    pub(super) fn charge_drop(
        &self,
        work: &ChargeWork,
        mass_flow: f64,
        density: f64,
        shrunk: f64,
    ) -> f64 {
        self.charge
            .pressure_drop(mass_flow, density, shrunk, work.friction)
    }
}

fn check(sizes: &CoreSizes) -> Result<(), CoreError> {
    let lengths = [
        sizes.width,
        sizes.height,
        sizes.depth,
        sizes.wall,
        sizes.conductivity,
        sizes.beside,
        sizes.conductance_factor,
        sizes.charge.height,
        sizes.sink.height,
    ];
    if !lengths.into_iter().all(|x| x.is_finite() && x > 0.0) {
        return Err(CoreError::Size);
    }
    for (side, passage) in [(Side::Charge, &sizes.charge), (Side::Sink, &sizes.sink)] {
        let Some(fin) = passage.fin else { continue };
        let room = fin.thickness > 0.0
            && fin.pitch > fin.thickness
            && passage.height > fin.thickness
            && fin.pitch.is_finite();
        if !room {
            return Err(CoreError::NoRoom(side));
        }
    }
    Ok(())
}
