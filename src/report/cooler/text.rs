//! The cooler for reading: verdict first, then the hardest point, what would do, the depth, the line.

use super::run_text::run_text;
use super::size_view::{DepthsView, SizeView};
use super::tables::{line, points};
use super::view::{CoolerPointView, CoolerReport, TargetView, WithoutView};
use super::words::{figure, named, rpm, sink};
use crate::quantity::{Kind, UnitSystem, label, shown};
use crate::report::table::one_line;
use crate::study::cooler::{WORTH, least_size_factor};

/// What a depth means where the core's shape is not known.
pub(in crate::report) const ASSUMED: &str = "the core's shape is not known; UA and the charge's \
drop are taken to grow with the depth (more core for the charge to pass).";

/// The report as text in the reader's units, without findings and caution.
pub fn cooler_text(report: &CoolerReport, system: UnitSystem) -> String {
    let mut out = format!("{}\n{}\n\n", one_line(&report.title), what(report));
    out.push_str(&verdict(report, system));
    out.push_str("\n\n");
    out.push_str(&points(report, system));
    out.push_str(&without(&report.hardest, system));
    if !report.sizes.is_empty() {
        out.push_str(
            "\nWhat would just do over the whole line, each changed alone and matched anew:\n",
        );
        for size in &report.sizes {
            out.push_str(&format!("  {}\n", size_words(size, report, system)));
        }
    }
    if let Some(depths) = &report.depths {
        out.push('\n');
        out.push_str(&depth_words(depths, report, system));
    }
    out.push_str("\nOver the line:\n");
    out.push_str(&line(report, system));
    if let Some(run) = &report.run {
        out.push('\n');
        out.push_str(&run_text(run, report, system));
    }
    out
}

fn what(report: &CoolerReport) -> String {
    let others = match report.other_coolers.as_slice() {
        [] => String::new(),
        [other] => format!(" (besides \"{other}\": --cooler chooses)"),
        others => format!(" (besides {}: --cooler chooses)", others.join(", ")),
    };
    let unconfirmed = if report.hardest.unconfirmed.is_some() {
        "; unconfirmed: its correlations were not checked against anything outside"
    } else {
        ""
    };
    format!(
        "{}, cooled by {}{others}{unconfirmed}",
        named(&report.cooler),
        report.sink
    )
}

/// The answer in one sentence.
fn verdict(report: &CoolerReport, system: UnitSystem) -> String {
    let hottest = &report.hottest;
    let charge = hottest.engine.charge_temperature_k;
    let reaches = format!(
        "the charge reaches the engine at up to {} ({})",
        figure(charge, Kind::Temperature, system),
        rpm(hottest.rpm, system)
    );
    let Some(target) = &report.target else {
        return format!(
            "No target: {reaches}. Write max_charge_temperature into [limits], or give --target \
             \"60 degC\", to hear whether that is enough."
        );
    };
    let goal = format!(
        "{} ({})",
        figure(target.charge_temperature_k, Kind::Temperature, system),
        target.from
    );
    let away = figure(
        (charge - target.charge_temperature_k).abs(),
        Kind::TemperatureDifference,
        system,
    );
    match target.verdict {
        "enough" => format!(
            "Enough: {reaches}, {away} below the {goal} that it must not pass{}.",
            to_spare(target)
        ),
        "better without" => format!(
            "Better without it: {reaches}, {away} above the {goal} that it must not pass, at {}; \
             what cools it is hotter than the charge, which keeps the target without it.",
            speeds(report, target)
        ),
        "short" => format!(
            "Short by {} of the effectiveness it needs: {reaches}, {away} above the {goal} that it \
             must not pass, at {}.",
            figure(target.short_by.unwrap_or(0.0), Kind::Share, system),
            speeds(report, target)
        ),
        _ => format!(
            "Out of reach: {reaches}, {away} above the {goal} that it must not pass, at {}. No \
             finite size reaches that{}.",
            speeds(report, target),
            coldest(report, system)
        ),
    }
}

/// "; it could do without 8.0 % of its effectiveness".
fn to_spare(target: &TargetView) -> String {
    target.to_spare.map_or_else(String::new, |spare| {
        format!(
            "; it could do without {} of its effectiveness",
            figure(spare, Kind::Share, UnitSystem::Si)
        )
    })
}

fn speeds(report: &CoolerReport, target: &TargetView) -> String {
    format!("{} of {} speeds", target.points_over, report.points.len())
}

/// What even an endless cooler gives.
fn coldest(report: &CoolerReport, system: UnitSystem) -> String {
    let size = report.sizes.iter().find(|size| size.coldest_k.is_some());
    let Some((coldest, at)) = size.and_then(|size| Some((size.coldest_k?, size.rpm?))) else {
        return String::new();
    };
    format!(
        ": an endless one would bring the charge to {} at {}, with its {} at {}; only something \
         colder helps",
        figure(coldest, Kind::Temperature, system),
        rpm(at, system),
        sink(report.sink),
        figure(
            report.hardest.sink_inlet_temperature_k,
            Kind::Temperature,
            system
        )
    )
}

/// What the engine would do without it.
fn without(point: &CoolerPointView, system: UnitSystem) -> String {
    let at = rpm(point.rpm, system);
    let with = &point.engine;
    let bare = match &point.without {
        WithoutView::Engine(bare) => bare,
        WithoutView::Error { error } => {
            let error = error.in_units(system);
            return format!("\nWithout the cooler there is no match at {at}: {error}\n");
        }
    };
    let mut out = format!(
        "\nThe same engine at {at} with the cooler taken out, matched anew: {} of air in place of \
         {}, charge at {}, manifold at {}",
        figure(bare.air_mass_flow_kg_s, Kind::MassFlow, system),
        figure(with.air_mass_flow_kg_s, Kind::MassFlow, system),
        figure(bare.charge_temperature_k, Kind::Temperature, system),
        figure(bare.manifold_pressure_pa, Kind::AbsolutePressure, system),
    );
    if let (Some(before), Some(after)) = (bare.brake_power_w, with.brake_power_w) {
        out.push_str(&format!(
            ", {} in place of {} at the crank",
            figure(before, Kind::Power, system),
            figure(after, Kind::Power, system)
        ));
    }
    out.push_str(".\nThe cooler brings ");
    out.push_str(&signed(point.air_gain, Kind::Share, system));
    out.push_str(" air");
    if point.brake_power_gain_w.is_some() {
        out.push_str(&format!(
            " and {} brake power, the fuel as the build gives it",
            signed(point.brake_power_gain_w, Kind::Power, system)
        ));
    }
    out.push_str(".\n");
    out
}

/// "42.0 % more", "1.2 kW less".
fn signed(value: Option<f64>, kind: Kind, system: UnitSystem) -> String {
    let value = value.unwrap_or(0.0);
    let word = if value < 0.0 { "less" } else { "more" };
    format!("{} {word}", figure(value.abs(), kind, system))
}

/// One size in words.
fn size_words(size: &SizeView, report: &CoolerReport, system: UnitSystem) -> String {
    let side = sink(report.sink);
    let name = match size.what {
        "effectiveness" => "effectiveness".to_owned(),
        "conductance" => "UA at the given flows".to_owned(),
        "face" => "face area at the given depth".to_owned(),
        _ => format!("flow of the {side}"),
    };
    let value = |value: f64| match size.what {
        "effectiveness" => figure(value, Kind::Share, system),
        "conductance" => figure(value, Kind::ThermalConductance, system),
        "face" if size.unit == "1" => format!("{value:.2} times"),
        "face" => face(value, system),
        _ => figure(value, Kind::MassFlow, system),
    };
    let (Some(needed), Some(at)) = (size.needed, size.rpm) else {
        return match (size.coldest_k, size.rpm) {
            (Some(coldest), Some(at)) => format!(
                "{name}: no finite size reaches it ({} at {})",
                figure(coldest, Kind::Temperature, system),
                rpm(at, system)
            ),
            _ => format!("{name}: none is needed"),
        };
    };
    let present = if size.what == "face" && size.unit == "1" {
        "the present one".to_owned()
    } else {
        format!("in place of {}", value(size.have))
    };
    let factor = match (size.what, size.factor) {
        ("face", Some(_)) if size.unit == "1" => String::new(),
        ("conductance" | "sink flow" | "face", Some(factor)) => {
            format!(", {factor:.2} times as much")
        }
        ("effectiveness", _) if report.hardest.least_conductance_w_k.is_some() => {
            least_factor(size.have, needed, side)
        }
        _ => String::new(),
    };
    format!(
        "{name}: {} {present}{factor} (asked by {})",
        value(needed),
        rpm(at, system)
    )
}

/// A core's face is large: no decimals.
fn face(value: f64, system: UnitSystem) -> String {
    let text = shown(value, Kind::Area, system);
    let whole = text.split('.').next().unwrap_or_default();
    format!("{whole} {}", label(Kind::Area, system))
}

/// How much larger a core of a fixed effectiveness has to be.
fn least_factor(have: f64, needed: f64, side: &str) -> String {
    let factor = least_size_factor(have, needed).filter(|&factor| factor >= 0.01);
    factor.map_or_else(String::new, |factor| {
        format!(", {factor:.2} times the UA if the {side} does not warm")
    })
}

/// Where more depth stops paying.
fn depth_words(depths: &DepthsView, report: &CoolerReport, system: UnitSystem) -> String {
    let (there, own) = (&depths.pays_to, &report.hardest);
    let drop = |pa: f64| figure(pa, Kind::PressureDifference, system);
    let gain = |value: f64| shown(value, Kind::Number, system);
    let factor = there.depth_factor;
    let millimetres = depths.build_depth_m.map_or_else(String::new, |depth| {
        let of = |metres: f64| figure(metres, Kind::Length, system);
        format!(", {} in place of {}", of(factor * depth), of(depth))
    });
    let mut out = match depths.place {
        "deepest" => {
            format!("Depth: more would pay still at {factor:.1} times the build's")
        }
        "shallowest" => {
            format!("Depth: already at {factor:.1} times the build's more does not pay")
        }
        _ => format!("Depth: more pays up to {factor:.2} times the build's"),
    };
    let brings = if depths.place == "deepest" {
        "there, a tenth more depth still brings at least"
    } else {
        "beyond, a tenth more depth brings less than"
    };
    out.push_str(&format!(
        "{millimetres} (density gain {} there, the charge's drop {}; now {} and {}): {brings} \
         {:.1} % density.",
        gain(there.density_gain),
        drop(there.pressure_drop_pa),
        gain(own.density_gain),
        drop(own.pressure_drop_pa),
        100.0 * WORTH
    ));
    if let Some(denser) = depths.denser_beyond() {
        out.push_str(&format!(
            " Past it the density falls and rises again, to {} at {:.1} times.",
            gain(denser.density_gain),
            denser.depth_factor
        ));
    }
    if let Some(air) = depths.air_gain {
        out.push_str(&format!(
            " On this engine that depth brings {} air at {}, matched anew.",
            signed(Some(air), Kind::Share, system),
            rpm(own.rpm, system)
        ));
    }
    out.push_str(&if depths.assumed {
        format!(" Assumed: {ASSUMED}")
    } else {
        format!(" Depth is along the way of the {}.", sink(report.sink))
    });
    out.push('\n');
    out
}
