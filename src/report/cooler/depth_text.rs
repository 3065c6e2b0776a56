//! Where more depth of the core stops paying, for reading.

use super::words::{ASSUMED, figure, more, rpm, sink};
use crate::quantity::{Kind, UnitSystem, shown};
use crate::report::fields::cooler_depth::{DepthStudy, denser_beyond};
use crate::report::fields::cooler_report::CoolerReport;
use crate::study::cooler::{PaysTo, WORTH};

/// The depth that is worth it, and what it brings.
pub(super) fn depth_text(study: &DepthStudy, report: &CoolerReport, system: UnitSystem) -> String {
    let depths = &study.depths;
    let (there, own) = (&depths.pays_to, &report.assessment.hardest);
    let drop = |pa: f64| figure(pa, Kind::PressureDifference, system);
    let gain = |value: f64| shown(value, Kind::Number, system);
    let factor = there.factor;
    let millimetres = study.build_depth.map_or_else(String::new, |depth| {
        let of = |metres: f64| figure(metres, Kind::Length, system);
        format!(", {} instead of {}", of(factor * depth), of(depth))
    });
    let (is_worth, beyond) = match depths.place {
        PaysTo::Deepest => (
            format!("Core depth is still worthwhile at {factor:.1}×"),
            "there 10 % more still adds at least",
        ),
        PaysTo::Shallowest => (
            format!("Core depth is not worthwhile even at {factor:.1}×"),
            "beyond that 10 % more adds under",
        ),
        PaysTo::Inside => (
            format!("Core depth is worthwhile up to about {factor:.1}×"),
            "beyond that 10 % more adds under",
        ),
    };
    let mut out = format!(
        "{is_worth}{millimetres} (density gain {} there, pressure drop of the charge {}; now {} and \
         {}); {beyond} {:.1} % density.",
        gain(there.density_gain),
        drop(there.pressure_drop),
        gain(own.state.density_gain),
        drop(own.state.pressure_drop),
        100.0 * WORTH
    );
    if let Some(denser) = denser_beyond(depths) {
        out.push_str(&format!(
            " Past it the density falls and rises again, to {} at {:.1}×.",
            gain(denser.density_gain),
            denser.factor
        ));
    }
    if let Some(air) = study.air_gain {
        out.push_str(&format!(
            " On this engine that depth brings {} air at {}, re-solved.",
            more(air, Kind::Share, system),
            rpm(own.rpm, system)
        ));
    }
    out.push_str(&if depths.assumed {
        format!(" Assumed: {ASSUMED}")
    } else {
        format!(
            " Depth is measured along the flow of the {}.",
            sink(report.sink)
        )
    });
    out.push('\n');
    out
}
