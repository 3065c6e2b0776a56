//! Steps where the wastegate cannot hold its limit.

use super::super::figure::{percent, plain};
use super::Say;
use crate::finding::{Code, Detail};

impl Say<'_> {
    pub(super) fn gate(&self) -> Option<String> {
        Some(match (self.finding.code, self.finding.detail) {
            (
                Code::SuperchargerAboveBoostLimit,
                Detail::Gate {
                    drive_ratio: Some(now),
                    drive_ratio_to_hold: Some(hold),
                    solved,
                    ..
                },
            ) => {
                let about = if solved { "" } else { "about " };
                format!(
                    "Lower the drive ratio from {} to {about}{} with a larger pulley on the \
                     supercharger, or hold the limit with a regulated bypass: the wastegate only \
                     hands work back to the belt.",
                    plain(now),
                    plain(hold)
                )
            }
            (
                Code::WastegateTooSmall,
                Detail::Gate {
                    share,
                    share_to_hold: Some(hold),
                    ..
                },
            ) => format!(
                "It passes {} of the exhaust and would have to pass {}: fit a larger valve, or a \
                 larger turbine.",
                percent(share),
                percent(hold)
            ),
            (Code::WastegateTooSmall, Detail::Gate { share, .. }) => format!(
                "It is wide open and passes {} of the exhaust: fit a larger valve, or a larger \
                 turbine.",
                percent(share)
            ),
            (Code::SuperchargerAboveBoostLimit | Code::WastegateWideOpen, _) => {
                "Turn the supercharger slower, or fit a larger wastegate valve; a regulated bypass \
                 would hold the limit as well."
                    .to_owned()
            }
            (
                Code::LimitInSuperchargerBand,
                Detail::Band {
                    at_rest,
                    at_unity,
                    drive_ratio_to_hold,
                },
            ) => {
                let pulley = drive_ratio_to_hold
                    .map_or("a slower supercharger".to_owned(), |hold| {
                        format!("a drive ratio of {}", plain(hold))
                    });
                format!(
                    "The supercharger alone makes {} with the turbocharger at rest and {} with it at \
                     a pressure ratio of 1, so that the gate sets the split and hardly the boost: \
                     {pulley} or a regulated bypass would hold it.",
                    self.absolute(at_rest),
                    self.absolute(at_unity)
                )
            }
            _ => return None,
        })
    }
}
