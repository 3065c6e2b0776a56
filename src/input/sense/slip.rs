//! The likely slip: the same number in another unit, a ratio upside down, a decimal point moved.

use super::given;
use super::scene::Scene;
use crate::input::keys::row::Slip;
use crate::quantity::Kind;

/// How far a decimal point slips, digits; a prefix of a thousand is likelier than a hundred.
const POINT: [i32; 6] = [-1, 1, -3, 3, -2, 2];
/// A gauge reading of a pressure wants this behind its unit.
const GAUGE: &str = "g";

/// "; did you mean 120 mg?", or what the key means; empty where nothing is likely. `meant` tells
/// whether a value would be usual.
pub(super) fn meant(scene: &Scene<'_>, slip: Slip, meant: impl Fn(f64) -> bool) -> String {
    match slip {
        Slip::Words(words) => match of_size(scene, &meant) {
            Some(text) => format!("; did you mean {text}? ({words})"),
            None => format!("; {words}"),
        },
        Slip::Inverted(words) => {
            if scene.value > 0.0 && meant(1.0 / scene.value) {
                let other = given::digits(1.0 / scene.value);
                return format!("; {words}: did you mean {other}?");
            }
            match of_size(scene, &meant) {
                Some(text) => format!("; did you mean {text}? ({words})"),
                None => format!("; {words}"),
            }
        }
        Slip::OfSize => of_size(scene, &meant)
            .map_or_else(String::new, |text| format!("; did you mean {text}?")),
    }
}

fn of_size(scene: &Scene<'_>, meant: &impl Fn(f64) -> bool) -> Option<String> {
    let gauge = as_gauge(scene).filter(|(value, _)| meant(*value));
    // A slip of the prefix is likelier than one between inches and metres.
    let (alike, foreign) = scene.given.in_other_units(scene.row);
    let of = |units: Vec<(f64, String)>| units.into_iter().find(|(value, _)| meant(*value));
    let point = || {
        let moved = POINT.map(|digits| scene.value * 10_f64.powi(digits));
        let found = moved.into_iter().find(|value| meant(*value))?;
        Some(scene.given.show(scene.row, found))
    };
    let text = |found: Option<(f64, String)>| found.map(|(_, text)| text);
    text(gauge)
        .or_else(|| text(of(alike)))
        .or_else(point)
        .or_else(|| text(of(foreign)))
}

/// The same number as a gauge pressure, where an absolute one was wanted and nothing was said.
fn as_gauge(scene: &Scene<'_>) -> Option<(f64, String)> {
    let (site, _) = scene.view.outside();
    let is_absolute = scene.given.spec.kind() == Kind::AbsolutePressure;
    let shown = scene.given.written(scene.row);
    let says_nothing = scene.given.says_nothing_of_its_zero(scene.row);
    (is_absolute && says_nothing).then(|| (scene.value + site, format!("{shown}{GAUGE}")))
}
