//! Advice on the head, injectors, knocking, belts, and power that is not known.

use super::writer::AdviceWriter;
use crate::finding::{Detail, KnockGrade, Severity};
use crate::quantity::Kind;
use crate::report::words::figure::{percent, plain};
use crate::report::words::missing;

pub fn clamp(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::Clamp {
        now,
        needed,
        allowed_peak,
    } = writer.finding.detail
    else {
        return format!("{general}.");
    };
    let (now, needed) = (
        writer.roughly(now, Kind::Force),
        writer.roughly(needed, Kind::Force),
    );
    let lifts = if writer.finding.value.is_some_and(|margin| margin < 0.0) {
        "; the head lifts"
    } else {
        ""
    };
    let or = allowed_peak.map_or_else(String::new, |peak| {
        format!(
            ", or max_cylinder_pressure at most {}",
            // Three figures are within 0.5 %: so much less, and the rounded one keeps the limit.
            writer.roughly(0.995 * peak, Kind::AbsolutePressure)
        )
    });
    let studs = format!(
        "at the weak end the studs of a cylinder clamp with {now}, and the limit needs {needed}{or}{lifts}; \
         estimates only, not an approval to build"
    );
    if writer.beyond {
        writer.setting(
            &format!("Clamp harder or run less boost: {studs}"),
            &format!(", or clamp harder: {studs}"),
        )
    } else {
        writer.setting(&format!("Small margin: {studs}"), "")
    }
}

pub fn injectors(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.detail {
        Detail::InjectorFactor(factor) if factor > 1.0 => {
            let full = if writer.finding.value.is_some_and(|duty| duty > 1.0) {
                ": they cannot be open for more than all of the time"
            } else {
                ""
            };
            format!(
                "Fit injectors of {} times the flow, or raise the fuel pressure by the square of that{full}.",
                plain(factor)
            )
        }
        Detail::InjectorFactor(factor) => format!(
            "Small margin: the limit is reached with {} times this fuel.",
            plain(1.0 / factor)
        ),
        _ => format!("{general}."),
    }
}

pub fn knock(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Detail::Knock(grade) = writer.finding.detail else {
        return format!("{general}.");
    };
    let (verdict, rest) = match grade {
        KnockGrade::Easy => (
            "Close to this fuel's knock limit",
            "watch spark timing and charge temperature",
        ),
        KnockGrade::Care => (
            "A grade, not a prediction",
            "take care with spark timing, mixture and charge temperature; less boost, a colder charge, a \
             lower compression ratio or a more knock-resistant fuel would help",
        ),
        KnockGrade::TooMuch => (
            "A grade, not a prediction",
            "this is usually too much for the fuel; run less boost, a colder charge, a lower compression ratio or \
             a more knock-resistant fuel",
        ),
    };
    let text = format!("{verdict}: {rest}");
    if writer.finding.severity == Severity::Ok {
        return format!("{text}.");
    }
    writer.setting(&text, &format!(" to be clear of it; {rest}"))
}

pub fn belt_speed(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    let Some((limit, value)) = writer.finding.limit.zip(writer.finding.value) else {
        return format!("{general}.");
    };
    // At one ratio the belt's speed goes with the pulleys' diameter.
    let factor = (limit / value * 100.0).floor() / 100.0;
    if value > limit {
        format!(
            "Fit pulleys of at most {factor:.2} times the diameter on both shafts, or balanced steel ones."
        )
    } else {
        format!(
            "Small margin: the limit is reached with pulleys {factor:.2} times as large on both shafts."
        )
    }
}

pub fn held_back(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.value {
        Some(share) => format!(
            "Only {} of the fuel evaporates before the valves; the rest stays in droplets.",
            percent(share)
        ),
        None => format!("{general}."),
    }
}

pub fn power_unknown(writer: &AdviceWriter<'_>, general: &'static str) -> String {
    match writer.finding.detail {
        Detail::Missing(missing) => missing::for_power(missing).1.to_owned(),
        _ => format!("{general}."),
    }
}
