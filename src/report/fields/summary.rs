//! A line in a few figures; each `_rpm` is the engine speed of the figure before it.

use super::rows::fields;
use crate::study::{Margin, Summary, ValueAtSpeed};

/// The figures of a line, with the names of its stages.
#[derive(Debug, Clone)]
pub struct LineSummary {
    /// The figures.
    pub figures: Summary,
    /// Names of the stages, in flow order.
    pub stages: Vec<String>,
}

impl LineSummary {
    /// The name of the stage that a margin belongs to.
    pub fn stage(&self, margin: Option<Margin>) -> Option<String> {
        self.stages.get(margin?.stage).cloned()
    }
}

fields! {
LineSummary {
    surge_margin ? Share "min. surge margin" / "min. surge\nmargin",
        "Smallest surge margin at the same pressure ratio, of all stages with a map."
        |s| Some(s.figures.surge_margin?.at.value);
    surge_margin_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| Some(s.figures.surge_margin?.at.rpm);
    surge_margin_stage ? text "stage",
        "Stage at which it occurs." |s| s.stage(s.figures.surge_margin);
    choke_margin ? Share "min. choke margin" / "min. choke\nmargin",
        "Smallest choke margin, of all stages with a map."
        |s| Some(s.figures.choke_margin?.at.value);
    choke_margin_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| Some(s.figures.choke_margin?.at.rpm);
    choke_margin_stage ? text "stage",
        "Stage at which it occurs." |s| s.stage(s.figures.choke_margin);
    largest = flat "largest",
        "The largest of what the line has." |s| s.figures;
}

Summary {
    highest_shaft_speed_rpm ? RotationalSpeed "turbo speed" / "turbo speed",
        "Highest speed of a turbocharger's shaft." |s| value(s.shaft_speed);
    highest_shaft_speed_engine_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| rpm(s.shaft_speed);
    largest_boost_pa ? BoostPressure "peak boost",
        "Largest boost above the line's own site." |s| value(s.boost);
    largest_boost_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| rpm(s.boost);
    largest_brake_power_w ? Power "peak power" / "power",
        "Largest brake power." |s| value(s.power);
    largest_brake_power_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| rpm(s.power);
    largest_torque_n_m ? Torque "peak torque" / "torque",
        "Largest torque." |s| value(s.torque);
    largest_torque_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| rpm(s.torque);
    hottest_charge_k ? Temperature "hottest charge",
        "Hottest charge in the manifold." |s| value(s.charge_temperature);
    hottest_charge_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| rpm(s.charge_temperature);
    hottest_exhaust_k ? Temperature "hottest exhaust",
        "Hottest exhaust at the first turbine's inlet, or at the engine's outlet without one."
        |s| value(s.exhaust_temperature);
    hottest_exhaust_rpm ? RotationalSpeed "at",
        "Engine speed at which it occurs." |s| rpm(s.exhaust_temperature);
}
}

fn value(at: Option<ValueAtSpeed>) -> Option<f64> {
    at.map(|at| at.value)
}

fn rpm(at: Option<ValueAtSpeed>) -> Option<f64> {
    at.map(|at| at.rpm)
}
