//! How the resistance to heat divides between the two sides.

use super::{Cooler, Exchange, Exchanger, SinkSide};

impl Cooler {
    /// Share of the charge side in the resistance of an exchanger at work, 0 to 1; `None` where the
    /// sides are not known apart. A core's walls count on the charge side: they are a hundredth of
    /// the whole.
    pub fn charge_share(
        &self,
        mass_flow: f64,
        exchanger: &Exchanger,
        sink: &SinkSide,
    ) -> Option<f64> {
        let share = match &self.exchange {
            Exchange::Fixed(_) => return None,
            Exchange::Rated(rated) => {
                let (charge, sink) = (
                    rated.charge.at(mass_flow),
                    rated.sink.at(exchanger.sink_flow),
                );
                sink / (charge + sink)
            }
            Exchange::Core(core) => {
                let sink = sink.conductance * core.sizes().conductance_factor;
                1.0 - exchanger.conductance / sink
            }
        };
        (share > 0.0 && share < 1.0).then_some(share)
    }
}
