//! The same cooler made otherwise: what a study of sizes asks for.
//!
//! The usual core is meant: the charge runs across its width, the sink along its depth, layers lie
//! on each other along the height. A given effectiveness says nothing of UA; it is changed as if the
//! sink were endless, 1 − (1 − ε)^f for f times the conductance.

use super::{Cooler, Exchange, Sink, SinkFlow};
use crate::air_path::RatedDrop;
use crate::air_path::cooler::core::{Core, CoreSizes};
use crate::air_path::cooler::rated::Rated;
use crate::numeric::Schedule;

impl Cooler {
    /// With `factor` times the conductance, flows and drops left alone.
    #[must_use]
    pub fn with_conductance_scaled(&self, factor: f64) -> Self {
        let exchange = match &self.exchange {
            Exchange::Fixed(effectiveness) => with_units(effectiveness, factor),
            Exchange::Rated(rated) => Exchange::Rated(Rated {
                charge: rated.charge.behind(factor),
                sink: rated.sink.behind(factor),
                ..*rated
            }),
            Exchange::Core(core) => changed(core, |sizes| CoreSizes {
                conductance_factor: sizes.conductance_factor * factor,
                ..*sizes
            }),
        };
        Self {
            exchange,
            metal: self.metal,
            ..self.clone()
        }
    }

    /// With `factor` times the face at the same depth: so many coolers side by side, each with its
    /// part of both flows. A given or fan-driven flow of the sink stays as a whole.
    #[must_use]
    pub fn with_face_scaled(&self, factor: f64) -> Self {
        let exchange = match &self.exchange {
            Exchange::Fixed(effectiveness) => with_units(effectiveness, factor),
            Exchange::Rated(rated) => Exchange::Rated(Rated {
                charge: rated.charge.beside(factor),
                sink: rated.sink.beside(factor),
                ..*rated
            }),
            Exchange::Core(core) => changed(core, |sizes| CoreSizes {
                beside: sizes.beside * factor,
                ..*sizes
            }),
        };
        let beside = 1.0 / (factor * factor);
        self.resized(exchange, (beside, beside), factor)
    }

    /// With `factor` times the depth along the sink's flow at the same face: the charge has more
    /// channels side by side, so that its rated drop falls with the square, and the sink a longer
    /// way at the same speed, so that its rated drop grows in proportion.
    #[must_use]
    pub fn with_depth_scaled(&self, factor: f64) -> Self {
        let exchange = match &self.exchange {
            Exchange::Fixed(effectiveness) => with_units(effectiveness, factor),
            Exchange::Rated(rated) => Exchange::Rated(Rated {
                charge: rated.charge.beside(factor),
                sink: rated.sink.behind(factor),
                ..*rated
            }),
            Exchange::Core(core) => changed(core, |sizes| CoreSizes {
                depth: sizes.depth * factor,
                ..*sizes
            }),
        };
        self.resized(exchange, (1.0 / (factor * factor), factor), factor)
    }

    /// With a given effectiveness of the charge side at every speed.
    #[must_use]
    pub fn with_effectiveness(&self, effectiveness: f64) -> Self {
        Self {
            exchange: Exchange::Fixed(Schedule::constant(effectiveness)),
            ..self.clone()
        }
    }

    /// With `factor` times the flow of the sink, however it comes about.
    #[must_use]
    pub fn with_sink_flow_scaled(&self, factor: f64) -> Self {
        let mut changed = self.clone();
        changed.sink.flow_factor *= factor;
        changed
    }

    /// With the sink entering at a temperature in K, whatever circuit it runs in: a moment of a run.
    #[must_use]
    pub fn with_sink_temperature(&self, temperature: f64) -> Self {
        let sink = Sink {
            temperature,
            circuit: None,
            ..self.sink.clone()
        };
        Self {
            sink,
            ..self.clone()
        }
    }

    /// A pipe in its place: no heat, no drop.
    #[must_use]
    pub fn without(&self) -> Self {
        Self {
            exchange: Exchange::Fixed(Schedule::constant(0.0)),
            pressure_drop: RatedDrop::NONE,
            sink: Sink {
                flow: SinkFlow::Unknown,
                circuit: None,
                ..self.sink.clone()
            },
            metal: None,
        }
    }

    fn resized(&self, exchange: Exchange, (charge, sink): (f64, f64), mass: f64) -> Self {
        let times = |drop: RatedDrop, factor: f64| RatedDrop {
            coefficient: drop.coefficient * factor,
            // At the same drop.
            at_flow: drop.at_flow.map(|flow| flow / factor.sqrt()),
        };
        let mut changed = self.clone();
        // What stands beside a core's own drop is tanks and grille, which do not grow with it.
        if !matches!(exchange, Exchange::Core(_)) {
            changed.pressure_drop = times(self.pressure_drop, charge);
            changed.sink.pressure_drop = self.sink.pressure_drop.map(|drop| times(drop, sink));
        }
        changed.exchange = exchange;
        changed.metal = self.metal.map(|metal| metal * mass);
        changed
    }
}

/// ε of an endless sink with `factor` times the transfer units.
fn with_units(effectiveness: &Schedule, factor: f64) -> Exchange {
    let more = |e: f64| 1.0 - (1.0 - e.clamp(0.0, 1.0)).powf(factor);
    Exchange::Fixed(effectiveness.mapped(more))
}

/// A core of other sizes; where those make none, the core as it was.
fn changed(core: &Core, change: impl Fn(&CoreSizes) -> CoreSizes) -> Exchange {
    let new = Core::new(&change(core.sizes())).unwrap_or(*core);
    Exchange::Core(Box::new(new))
}
