//! Advice where the wastegate cannot hold its limit.

use super::writer::AdviceWriter;
use crate::finding::{Detail, Severity};
use crate::report::words::figure::percent;

pub fn too_small(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let passes = match writer.finding.detail {
        Detail::Gate { share } => {
            format!(": wide open it passes {} of the exhaust", percent(share))
        }
        _ => String::new(),
    };
    writer.setting(&format!("{general}{passes}"), &passes)
}

pub fn band(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::Band(alone) = writer.finding.detail else {
        return format!("{general}.");
    };
    let why = format!(
        ": the supercharger alone makes {} with the turbocharger at rest and {} with it at a pressure ratio \
         of 1, so that the wastegate sets the split and hardly the boost",
        writer.absolute(alone.at_rest),
        writer.absolute(alone.at_unity)
    );
    // Held or not, the way is down.
    let down = AdviceWriter {
        beyond: true,
        then: writer.then.clone(),
        ..*writer
    };
    down.setting(
        &format!("{general}{why}"),
        &format!(", or fit a regulated bypass{why}"),
    )
}

pub fn choked(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.severity {
        Severity::Ok => {
            "No harm in that: drive pressure now rises with the exhaust flow.".to_owned()
        }
        _ => format!("{general}."),
    }
}
