//! The cooler for reading: verdict first, then the hardest point, the sizes that would do, the depth,
//! the line.

use super::depth_text::depth_text;
use super::run_text::run_text;
use super::size_text::{coldest, size_text};
use super::tables::{line, points};
use super::words::{figure, more, named, rpm};
use crate::quantity::{Kind, UnitSystem};
use crate::report::fields::cooler_report::{CoolerReport, Target};
use crate::report::table::one_line;
use crate::report::words::match_error;
use crate::report::wrap::sentences_wrapped;
use crate::study::cooler::CoolerPoint;

/// The report as text in the reader's units, without findings and caution.
pub fn cooler_text(report: &CoolerReport, system: UnitSystem) -> String {
    let mut out = format!("{}\n\n", what(report));
    out.push_str(&verdict(report, system));
    out.push_str("\n\n");
    out.push_str(&points(report, system));
    out.push_str(&without(&report.assessment.hardest, system));
    let sizes = report.sizes();
    if !sizes.is_empty() {
        out.push_str(
            "\nSizes that just meet the target at every speed (one change at a time, engine \
             re-solved):\n",
        );
    }
    for size in &sizes {
        out.push_str(&format!("  {}\n", size_text(size, report, system)));
    }
    if let Some(depths) = report.depths() {
        out.push('\n');
        out.push_str(&depth_text(&depths, report, system));
    }
    out.push_str("\nOver the line:\n");
    out.push_str(&line(report, system));
    if let Some(run) = &report.run {
        out.push('\n');
        out.push_str(&run_text(run, report, system));
    }
    format!("{}\n{}", one_line(&report.title), sentences_wrapped(&out))
}

fn what(report: &CoolerReport) -> String {
    let others = match report.other_coolers().as_slice() {
        [] => String::new(),
        [other] => format!(" (also \"{other}\": choose with --cooler)"),
        others => format!(" (also {}: choose with --cooler)", others.join(", ")),
    };
    let unconfirmed = if report.assessment.hardest.state.unconfirmed {
        "; not validated: its correlations were not checked against measurements"
    } else {
        ""
    };
    format!(
        "{}, cooled by {}{others}{unconfirmed}",
        named(report.cooler()),
        report.sink
    )
}

/// The answer in one sentence.
fn verdict(report: &CoolerReport, system: UnitSystem) -> String {
    let hottest = &report.assessment.hottest;
    let charge = hottest.engine.charge_temperature;
    let reaches = format!(
        "the charge reaches the engine at up to {} ({})",
        figure(charge, Kind::Temperature, system),
        rpm(hottest.rpm, system)
    );
    let Some(target) = report.target() else {
        return format!(
            "No target: {reaches}. Set max_charge_temperature in [limits], or give --target \"60 degC\", to \
             check whether that is enough."
        );
    };
    let verdict = &target.verdict;
    let goal = format!(
        "the {} target ({})",
        figure(verdict.target, Kind::Temperature, system),
        target.from
    );
    let away = figure(
        (charge - verdict.target).abs(),
        Kind::TemperatureDifference,
        system,
    );
    let speeds = format!(
        "{} of {} speeds",
        verdict.points_over,
        report.assessment.points.len()
    );
    match target.word() {
        "enough" => format!(
            "Enough: {reaches}, {away} below {goal}{}.",
            to_spare(&target)
        ),
        "better without" => format!(
            "Better without it: {reaches}, {away} above {goal}, at {speeds}; the coolant is hotter \
             than the charge, which meets the target without the cooler."
        ),
        "short" => format!(
            "Short by {} of the effectiveness it needs: {reaches}, {away} above {goal}, at {speeds}.",
            figure(verdict.short_by.unwrap_or(0.0), Kind::Share, system)
        ),
        _ => format!(
            "Out of reach: {reaches}, {away} above {goal}, at {speeds}. No cooler size reaches it{}.",
            coldest(report, system)
        ),
    }
}

/// "; it could do without 8.0 % of its effectiveness".
fn to_spare(target: &Target) -> String {
    target.verdict.to_spare.map_or_else(String::new, |spare| {
        format!(
            "; {} of its effectiveness is spare",
            figure(spare, Kind::Share, UnitSystem::Si)
        )
    })
}

/// What the engine would do without it.
fn without(point: &CoolerPoint, system: UnitSystem) -> String {
    let at = rpm(point.rpm, system);
    let with = &point.engine;
    let bare = match &point.without {
        Ok(bare) => bare,
        Err(fault) => {
            let fault = match_error(fault).in_units(system);
            return format!("\nWithout the cooler there is no match at {at}: {fault}\n");
        }
    };
    let mut out = format!(
        "\nThe same engine at {at} with the cooler taken out, re-solved: {} of air instead of {}, \
         charge at {}, manifold at {}",
        figure(bare.air_mass_flow, Kind::MassFlow, system),
        figure(with.air_mass_flow, Kind::MassFlow, system),
        figure(bare.charge_temperature, Kind::Temperature, system),
        figure(bare.manifold_pressure, Kind::AbsolutePressure, system),
    );
    if let (Some(before), Some(after)) = (bare.brake_power, with.brake_power) {
        out.push_str(&format!(
            ", {} instead of {} at the crank",
            figure(before, Kind::Power, system),
            figure(after, Kind::Power, system)
        ));
    }
    out.push_str(".\nThe cooler gives ");
    out.push_str(&more(point.air_gain().unwrap_or(0.0), Kind::Share, system));
    out.push_str(" air");
    if let Some(gain) = point.power_gain() {
        let gain = more(gain, Kind::Power, system);
        out.push_str(&format!(" and {gain} brake power, with fuelling unchanged"));
    }
    out.push_str(".\n");
    out
}
