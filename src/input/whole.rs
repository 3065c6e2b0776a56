//! What no section can see alone: whether the layout has what its physics needs.

use super::layout_fault::layout_fault;
use super::reader::Reader;
use crate::air_path::{CompressorPerformance, Part};
use crate::matching::{Installation, Solver};

/// Notes what is missing or contradictory in the whole.
pub(super) fn check(root: &Reader<'_>, installation: &Installation) {
    let context = root.context();
    let before = context.count();
    let undriven = undriven(installation);
    for number in &undriven {
        let key = match number {
            0 => "turbo_compressor".to_owned(),
            more => format!("turbo_compressor.{}", more + 1),
        };
        let text =
            "has neither a given pressure_ratio nor a [turbine] that drives it: add one of them";
        context.fault(&root.place_of("air_path"), &key, text);
    }
    let solved = !installation.turbines.is_empty() && has_driven(installation);
    if solved || (installation.exhaust.is_some() && installation.turbines.is_empty()) {
        exhaust_needs(root, installation);
    }
    if context.count() > before {
        return;
    }
    if let Err(error) = Solver::new(installation) {
        context.fault(root.place(), "", layout_fault(&error));
    }
}

fn exhaust_needs(root: &Reader<'_>, installation: &Installation) {
    let context = root.context();
    let why = "is missing: the exhaust state is calculated from it";
    if installation.fuel.is_none() {
        let text =
            format!("{why}; write for example [fuel] with kind = \"diesel\" and lambda = 1.4");
        context.fault(root.place(), "fuel", text);
    }
    let engine = root.place_of("engine");
    if installation.engine.combustion.is_none() {
        context.fault(&engine, "engine.combustion", why);
    }
    if installation.engine.compression_ratio.is_none() {
        let why = "is missing: the effect of exhaust pressure on breathing is calculated from it";
        context.fault(&engine, "engine.compression_ratio", why);
    }
}

/// Whether a turbine drives a compressor that has to be solved.
fn has_driven(installation: &Installation) -> bool {
    let driven = |number: usize| {
        installation
            .turbines
            .iter()
            .any(|turbine| turbine.drives == number)
    };
    given(installation)
        .iter()
        .enumerate()
        .any(|(number, given)| !given && driven(number))
}

fn undriven(installation: &Installation) -> Vec<usize> {
    let driven = |number: usize| {
        installation
            .turbines
            .iter()
            .any(|turbine| turbine.drives == number)
    };
    let given = given(installation);
    (0..given.len())
        .filter(|number| !given[*number] && !driven(*number))
        .collect()
}

/// Of each turbo compressor in flow order, whether its pressure ratio is given.
fn given(installation: &Installation) -> Vec<bool> {
    let of = |part: &Part| match part {
        Part::TurboCompressor(turbo) => Some(matches!(
            turbo.performance,
            CompressorPerformance::Prescribed(_)
        )),
        _ => None,
    };
    installation.air_path.iter().filter_map(of).collect()
}
