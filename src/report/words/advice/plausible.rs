//! Steps where no engine at full load is in such a state: mostly a figure of the build is off.

use super::Say;
use crate::finding::{Detail, Severity};
use crate::quantity::Kind;

/// Of a state that is no match.
pub(super) const NOT_BALANCED: &str = "Take none of this speed's figures: look at what is far from \
    usual there, such as areas, drops and ratios.";
/// Of an engine that only takes.
pub(super) const NO_BRAKE_POWER: &str = "Friction, pumping and the supercharger's drive take all that \
    the fuel gives: look at the fuel, gross_indicated_efficiency, the drive ratio and the size of the \
    turbine.";
/// Of an exhaust without heat.
pub(super) const EXHAUST_TOO_COLD: &str = "So little heat is left that the figures do not fit each \
    other: look at the fuel, heat_loss_share and gross_indicated_efficiency.";
/// Of a drop that was rated elsewhere.
pub(super) const FLOW_BEYOND_RATING: &str = "Its drop is carried far past the flow that it was rated \
    at: look at at_flow, or have it rated near the flow it sees.";

impl Say<'_> {
    pub(super) fn manifold_below_site(&self) -> String {
        if self.finding.severity == Severity::Over {
            "At full load that is a shut throttle: look at pressure_drop and at_flow of filter, ducts, \
             cooler and throttle, and at the supercharger's displacement and drive ratio."
                .to_owned()
        } else {
            "The engine would breathe better without these parts at this speed: look at the pressure \
             drops, or fit a bypass around the stage that holds it back."
                .to_owned()
        }
    }

    pub(super) fn manifold_far_above_site(&self) -> String {
        self.step(
            "Take less boost: look at displacement, drive ratio and turbine area",
            "",
        )
    }

    pub(super) fn exhaust_beyond_material(&self) -> String {
        if self.beyond {
            self.step(
                "Give less fuel or more air, and look at gross_indicated_efficiency and heat_loss_share",
                "; no turbine lasts at this",
            )
        } else {
            self.step("Keep the mixture from getting hotter than this", "")
        }
    }

    pub(super) fn stage_pressure_ratio(&self) -> String {
        self.step(
            "Share the work between two stages, or take less boost",
            ", or share the work between two stages",
        )
    }

    pub(super) fn pressure_loss(&self) -> String {
        if self.finding.severity == Severity::Over {
            "The square law means nothing here: look at pressure_drop and at_flow, or at the diameter, \
             and fit a wider part."
                .to_owned()
        } else {
            "Fit a wider part: this loss costs boost and power.".to_owned()
        }
    }

    pub(super) fn duct_mach(&self) -> String {
        let limit = self.finding.limit.zip(self.finding.value);
        // At one flow and density the speed goes with the area.
        let wider = limit.map(|(limit, value)| (value / limit).sqrt());
        match wider {
            Some(factor) if factor > 1.0 => format!(
                "Make it {factor:.2} times as wide: at this speed bends cost much and the friction \
                 formula no longer holds."
            ),
            _ => "Make it wider: at this speed bends cost much.".to_owned(),
        }
    }

    pub(super) fn smoke_limiter(&self) -> String {
        let Detail::FuelCut { asked, burned } = self.finding.detail else {
            return "More air at this speed would bring more power.".to_owned();
        };
        format!(
            "Of {} per stroke only {} are burned: more air at this speed would bring the rest, or set \
             the pump to what the air allows.",
            self.value(asked, Kind::FuelPerStroke),
            self.value(burned, Kind::FuelPerStroke)
        )
    }
}
