//! Steps about the head, injectors, knocking, belts, and power that is not known.

use super::super::figure::{percent, plain};
use super::Say;
use crate::finding::{Detail, Grade, Missing, Severity};
use crate::quantity::Kind;

impl Say<'_> {
    pub(super) fn clamp(&self) -> String {
        let Detail::Clamp {
            now,
            needed,
            allowed_peak,
        } = self.finding.detail
        else {
            return "Stronger or more studs, or less boost.".to_owned();
        };
        let (now, needed) = (
            self.value(now, Kind::Force),
            self.value(needed, Kind::Force),
        );
        let lifts = if self.finding.value.is_some_and(|margin| margin < 0.0) {
            "; the head lifts"
        } else {
            ""
        };
        let or = allowed_peak.map_or_else(String::new, |peak| {
            format!(", or max_cylinder_pressure at most {}", self.absolute(peak))
        });
        let studs = format!(
            "at the weak end the studs of a cylinder clamp with {now} and the margin wants {needed}{or}{lifts}; \
             an estimate, no release to build"
        );
        if self.beyond {
            self.step(
                &format!("Clamp harder or take less boost: {studs}"),
                &format!(", or clamp harder: {studs}"),
            )
        } else {
            self.step(&format!("Little room is left: {studs}"), "")
        }
    }

    pub(super) fn injectors(&self) -> String {
        match self.finding.detail {
            Detail::InjectorFactor(factor) if factor > 1.0 => {
                let full = if self.finding.value.is_some_and(|duty| duty > 1.0) {
                    ": they cannot stand open longer than all the time"
                } else {
                    ""
                };
                format!(
                    "Fit injectors of {} times the flow, or raise the fuel's pressure by the square of \
                     that{full}.",
                    plain(factor)
                )
            }
            Detail::InjectorFactor(factor) => format!(
                "Little room is left: {} times this fuel brings them to it.",
                plain(1.0 / factor)
            ),
            _ => "Fit larger injectors.".to_owned(),
        }
    }

    pub(super) fn knock(&self) -> String {
        let grade = match self.finding.detail {
            Detail::Knock(grade) => knock(grade),
            _ => "Less boost, or a colder charge",
        };
        if self.finding.severity > Severity::Ok {
            self.step(grade, &format!(" to be clear of it: {}", lower(grade)))
        } else {
            format!("{grade}.")
        }
    }

    pub(super) fn belt_pull(&self) -> String {
        self.step(
            "Fit larger pulleys on both shafts, or a bearing carrier beside the supercharger's pulley",
            ", fit larger pulleys on both shafts, or a bearing carrier beside the supercharger's pulley",
        )
    }

    pub(super) fn belt_speed(&self) -> String {
        // At one ratio the belt's speed goes with the pulleys' diameter.
        match self.finding.limit.zip(self.finding.value) {
            Some((limit, value)) if value > limit => format!(
                "Take pulleys of at most {:.2} times the diameter on both shafts, or steel ones that \
                 were balanced.",
                (limit / value * 100.0).floor() / 100.0
            ),
            Some((limit, value)) => format!(
                "Little room is left: pulleys {:.2} times as large on both shafts bring it to that.",
                (limit / value * 100.0).floor() / 100.0
            ),
            None => {
                "Take smaller pulleys on both shafts, or steel ones that were balanced.".to_owned()
            }
        }
    }

    pub(super) fn held_back(&self) -> String {
        match self.finding.value {
            Some(share) => format!(
                "Only {} of the fuel finds room as vapour ahead of the valves; the rest goes on as drops.",
                percent(share)
            ),
            None => "The rest goes on as drops.".to_owned(),
        }
    }

    pub(super) fn power_unknown(&self) -> String {
        match self.finding.detail {
            Detail::Missing(missing) => give(missing),
            _ => "Give what is missing for it.",
        }
        .to_owned()
    }
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters
        .next()
        .map(|letter| letter.to_lowercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

const fn knock(grade: Grade) -> &'static str {
    match grade {
        Grade::Easy => {
            "Close to this fuel's knock limit: watch spark timing and charge temperature"
        }
        Grade::Care => {
            "A grade, no prediction: it takes care with spark, mixture and charge temperature; less \
             boost, a colder charge, a lower compression ratio or a more knock-resistant fuel help"
        }
        Grade::TooMuch => {
            "A grade, no prediction: mostly too much for this fuel; take less boost, a colder charge, a \
             lower compression ratio, or a more knock-resistant fuel"
        }
    }
}

const fn give(missing: Missing) -> &'static str {
    match missing {
        Missing::Fuel => "Add [fuel], [engine.combustion] and [exhaust].",
        Missing::Combustion => "Add [engine.combustion] and [exhaust].",
        Missing::Exhaust => "Add [exhaust] (pressure_drop and at_flow), or [turbine].",
        Missing::DrivenTurbine => {
            "Let the turbine drive its compressor: take out the compressor's pressure_ratio."
        }
        Missing::Drive => {
            "Give kind, displacement and drive_ratio of the supercharger in place of its pressure_ratio."
        }
        Missing::Stroke => "Set engine.stroke (needed for friction).",
    }
}
