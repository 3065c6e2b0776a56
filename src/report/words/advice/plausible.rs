//! Advice where no engine at full load is in such a state: mostly a figure of the build is off.

use super::writer::AdviceWriter;
use crate::finding::{Detail, Severity};
use crate::quantity::Kind;

pub fn manifold_below_site(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.finding.severity == Severity::Over {
        "At full load that is like a closed throttle: check pressure_drop and at_flow of filter, ducts, \
         cooler and throttle, and the supercharger's displacement and drive ratio."
            .to_owned()
    } else {
        format!("{general}.")
    }
}

pub fn exhaust_beyond_material(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.beyond {
        writer.setting(general, "; no turbine lasts at this")
    } else {
        writer.setting("Small margin: do not let the exhaust get hotter", "")
    }
}

pub fn pressure_loss(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    if writer.finding.severity == Severity::Over {
        "Check pressure_drop and at_flow, or the diameter, and fit a wider part: the square law does not \
         hold here."
            .to_owned()
    } else {
        format!("{general}.")
    }
}

pub fn duct_mach(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let limit = writer.finding.limit.zip(writer.finding.value);
    // At one flow and density the speed goes with the area.
    let wider = limit.map(|(limit, value)| (value / limit).sqrt());
    match wider {
        Some(factor) if factor > 1.0 => format!(
            "Use {factor:.2} times the diameter: at this speed bends cost much, and the friction formula no \
             longer holds."
        ),
        _ => format!("{general}."),
    }
}

pub fn smoke_limiter(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::FuelCut { asked, burned } = writer.finding.detail else {
        return format!("{general}.");
    };
    format!(
        "Of {} per stroke only {} are burned: more air at this speed would burn the rest, or set the pump \
         to what the air allows.",
        writer.value(asked, Kind::FuelPerStroke),
        writer.value(burned, Kind::FuelPerStroke)
    )
}
