//! A code of the catalogue explained: what it is, its limit, how bad it is, what to do.

use serde::Serialize;

use super::catalogue::words;
use super::figure::{kind, percent, with_unit};
use super::name::severity;
use crate::engine::FuelKind;
use crate::finding::{
    Bound, CatalogueRow, Code, Grading, NEAR, NEAR_MINIMUM, Origin, Passed, Rule, Usual,
};
use crate::quantity::{UnitSystem, label};

/// What the catalogue says of one code, for reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Explanation {
    /// The fixed word.
    pub code: &'static str,
    /// What is limited, or what is wrong.
    pub label: &'static str,
    /// The reader's unit of value and limit; empty for a plain number.
    pub unit: &'static str,
    /// What it is, one sentence.
    pub sentence: &'static str,
    /// Where the limit comes from, with its default and the default's source.
    pub limit: String,
    /// How bad it is.
    pub severity: String,
    /// What to do, one sentence.
    pub advice: String,
}

/// Explains a code by its fixed word, such as `surge_margin`, in the reader's units. `None` where no
/// code has that word.
pub fn explain(word: &str, system: UnitSystem) -> Option<Explanation> {
    let code = *Code::ALL.iter().find(|code| words(**code).code == word)?;
    let (row, words) = (code.row(), words(code));
    Some(Explanation {
        code: words.code,
        label: words.label,
        unit: label(kind(row.measure), system),
        sentence: words.sentence,
        limit: limit(code, system),
        severity: match words.more.severity {
            "" => grading(&row),
            text => text.to_owned(),
        },
        advice: format!("{}.", words.advice.general),
    })
}

/// "limits.min_surge_margin; default 10.0 % (common practice)".
fn limit(code: Code, system: UnitSystem) -> String {
    let (row, more) = (code.row(), words(code).more);
    let usual = usual(&row, system).map(|figures| format!("{figures} ({})", more.source));
    match (row.origin, usual) {
        (Origin::Limits(_), Some(usual)) => format!("{}; default {usual}", more.key),
        (Origin::Limits(_), None) => format!("{}; not checked unless set", more.key),
        (Origin::MaxSpeed, _) => "max_speed of the part; not checked unless set".to_owned(),
        (Origin::BoostLimit, _) => "boost_limit of the wastegate".to_owned(),
        (Origin::RuleOfThumb, Some(usual)) => format!("rule of thumb: {usual}"),
        (Origin::RuleOfThumb | Origin::Nature, _) => {
            "none to set: it follows from the build itself".to_owned()
        }
    }
}

/// The figures of the rule of thumb.
fn usual(row: &CatalogueRow, system: UnitSystem) -> Option<String> {
    let figure = |rule: Rule| with_unit(rule.limit, kind(row.measure), system);
    match row.usual {
        Usual::None => None,
        Usual::Figure(rule) => Some(figure(rule)),
        Usual::TimesSite(rule) => Some(format!("{:.0} times the pressure outside", rule.limit)),
        Usual::ByMachine {
            roots,
            screw,
            wheel,
        } => Some(format!(
            "{:.1} for Roots, {:.1} for screws, {:.1} for a wheel",
            roots.limit, screw.limit, wheel.limit
        )),
        Usual::ByFuel => {
            let of = |(name, fuel): (&str, FuelKind)| {
                let (easy, most) = fuel.knock_ratios()?;
                Some(format!("{easy:.0} and {most:.0} for {name}"))
            };
            let fuels: Vec<_> = FUELS.into_iter().filter_map(of).collect();
            Some(fuels.join(", "))
        }
    }
}

/// The fuels that can knock.
const FUELS: [(&str, FuelKind); 4] = [
    ("petrol", FuelKind::Petrol),
    ("E85", FuelKind::E85),
    ("ethanol", FuelKind::Ethanol),
    ("methanol", FuelKind::Methanol),
];

/// How bad it is, from the numbers of its row.
fn grading(row: &CatalogueRow) -> String {
    let past = match row.bound {
        Bound::AtMost => "above",
        Bound::AtLeast => "below",
    };
    let near = match row.bound {
        Bound::AtMost => format!("within {:.0} % of it", 100.0 * NEAR),
        Bound::AtLeast => format!("below {NEAR_MINIMUM} times it"),
    };
    let passed = match row.usual {
        Usual::Figure(rule) | Usual::TimesSite(rule) => rule.passed,
        _ => Passed::Fails,
    };
    match (row.grading, passed) {
        (Grading::Always(always), _) => format!("always {}", severity(always)),
        (Grading::OrWorse(least, most), _) => {
            format!("{} or {}", severity(least), severity(most))
        }
        (Grading::Margin, Passed::Fails) => format!("over {past} the limit, near {near}"),
        (Grading::Margin, Passed::Warns) => match row.origin {
            Origin::Limits(_) => format!(
                "over {past} a limit that is set, near {near}; near {past} the rule of thumb"
            ),
            _ => format!("near {past} the limit: it only warns"),
        },
        (Grading::Margin, Passed::WarnsUpTo(end, then)) => format!(
            "near {past} the limit, {} {past} {}",
            severity(then),
            match kind(row.measure) {
                crate::quantity::Kind::Share => percent(end),
                _ => format!("{end}"),
            }
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn explained(word: &str, system: UnitSystem) -> Explanation {
        explain(word, system).unwrap()
    }

    #[test]
    fn a_default_stands_with_its_key_and_source_in_the_readers_units() {
        let surge = explained("surge_margin", UnitSystem::Si);
        assert_eq!(surge.label, "surge margin");
        assert!(
            surge
                .limit
                .starts_with("limits.min_surge_margin; default 10.0 % (common practice"),
            "{surge:?}"
        );
        assert_eq!(
            surge.severity,
            "over below the limit, near below 1.25 times it"
        );
        let hot = explained("compressor_outlet_temperature", UnitSystem::Us);
        assert_eq!(hot.unit, "°F");
        assert!(hot.limit.contains("default 392.0 °F"), "{hot:?}");
    }

    #[test]
    fn rules_that_warn_or_vary_say_so() {
        let loss = explained("pressure_loss", UnitSystem::Si);
        assert_eq!(loss.severity, "near above the limit, over above 50.0 %");
        let knock = explained("knock", UnitSystem::Si);
        assert!(knock.limit.contains("12 and 14 for petrol"), "{knock:?}");
        let smoke = explained("diesel_smoke", UnitSystem::Si);
        assert_eq!(smoke.severity, "near below the limit: it only warns");
        let speed = explained("turbo_speed", UnitSystem::Si);
        assert_eq!(speed.limit, "max_speed of the part; not checked unless set");
    }

    #[test]
    fn every_code_is_explained_in_both_systems_and_nothing_else_is() {
        for &code in Code::ALL {
            for system in [UnitSystem::Si, UnitSystem::Us] {
                let text = explained(words(code).code, system);
                assert!(
                    !text.limit.is_empty() && !text.severity.is_empty(),
                    "{text:?}"
                );
                assert!(text.advice.ends_with('.'), "{text:?}");
            }
        }
        assert_eq!(explain("boost", UnitSystem::Si), None);
    }
}
