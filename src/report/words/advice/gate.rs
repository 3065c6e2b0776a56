//! Steps where the wastegate cannot hold its limit.

use super::super::figure::percent;
use super::Say;
use crate::finding::{Detail, Severity};

impl Say<'_> {
    pub(super) fn supercharger_above_limit(&self) -> String {
        self.step(
            "Lower the drive ratio with a larger pulley on the supercharger, or hold the limit with a \
             regulated bypass: opening the wastegate only moves load back to the belt",
            " with a larger pulley on it, or hold the limit with a regulated bypass: opening the \
             wastegate only moves load back to the belt",
        )
    }

    pub(super) fn gate_too_small(&self) -> String {
        let passes = match self.finding.detail {
            Detail::Gate { share } => {
                format!(": wide open it passes {} of the exhaust", percent(share))
            }
            _ => String::new(),
        };
        let otherwise = format!("Fit a larger wastegate valve, or a larger turbine{passes}");
        self.step(&otherwise, &passes)
    }

    pub(super) fn gate_wide_open(&self) -> String {
        self.step(
            "Turn the supercharger slower, or fit a larger wastegate valve or a regulated bypass",
            "; a regulated bypass would hold the limit as well",
        )
    }

    pub(super) fn band(&self) -> String {
        let Detail::Band(alone) = self.finding.detail else {
            return "Turn the supercharger slower, or fit a regulated bypass.".to_owned();
        };
        let why = format!(
            ": the supercharger alone makes {} with the turbocharger at rest and {} with it at a \
             pressure ratio of 1, so that the gate sets the split and hardly the boost",
            self.absolute(alone.at_rest),
            self.absolute(alone.at_unity)
        );
        // Held or not, the way is down.
        let down = Say {
            beyond: true,
            ..*self
        };
        down.step(
            &format!("Turn the supercharger slower, or fit a regulated bypass{why}"),
            &format!(", or fit a regulated bypass{why}"),
        )
    }

    pub(super) fn choked(&self) -> String {
        match self.finding.severity {
            Severity::Ok => "No harm in that: drive pressure now rises with the exhaust flow.",
            _ => "A larger turbine or an earlier wastegate lowers the drive pressure.",
        }
        .to_owned()
    }
}
