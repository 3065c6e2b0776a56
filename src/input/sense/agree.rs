//! Keys that say one thing together have to agree, as written.

use super::super::context::Context;
use super::beside;
use super::given::digits;
use super::view::AsWritten;
use crate::site::{SEA_LEVEL_PRESSURE, standard_air};

/// Displacement against bore, stroke and cylinders: what rounding of a data sheet explains.
const SIZES_AGREE: f64 = 0.01;
/// Drive ratio against the pulleys' own: what rounding of diameters explains.
const RATIOS_AGREE: f64 = 0.01;
/// A barometer at a place moves by some 4 % of the standard at most (common practice: 950 to
/// 1050 hPa at sea level, and storms beyond); a reading reduced to sea level is 6 % off from
/// 500 m on.
const LARGEST_DEVIATION: f64 = 0.06;

/// Notes where keys contradict each other.
pub(super) fn judge(context: &Context, view: &AsWritten<'_>) {
    let fault = |key: &str, text: String| {
        if let Some(given) = view.given(key) {
            context.fault(given.place(), key, text);
        }
    };
    if let Some(text) = size(view) {
        fault("engine.displacement", text);
    }
    if let Some(text) = pressure(view) {
        fault("site.pressure", text);
    }
    if let Some(text) = limit(view) {
        fault("limits.max_manifold_pressure", text);
    }
    if let Some(text) = friction(view) {
        fault("engine.head.smallest_stud_friction", text);
    }
    let superchargers = view
        .parts()
        .iter()
        .filter(|part| part.word == "supercharger");
    for part in superchargers {
        if let Some(text) = drive(view, &part.path) {
            fault(&format!("{}.drive_ratio", part.path), text);
        }
    }
}

fn differ(one: f64, other: f64, by: f64) -> bool {
    (one / other - 1.0).abs() > by
}

fn size(view: &AsWritten<'_>) -> Option<String> {
    let of = |key: &str| view.value(&format!("engine.{key}"));
    let (written, bore) = (of("displacement")?, of("bore")?);
    let computed = std::f64::consts::FRAC_PI_4 * bore * bore * of("stroke")? * of("cylinders")?;
    let given = view.given("engine.displacement")?;
    differ(written, computed, SIZES_AGREE).then(|| {
        format!(
            "{} does not fit bore, stroke and cylinders, which make {}: correct one of them, or leave \
             displacement out",
            given.written(0),
            given.show(0, computed)
        )
    })
}

fn drive(view: &AsWritten<'_>, path: &str) -> Option<String> {
    let of = |key: &str| view.value(&format!("{path}.{key}"));
    // Beside a given pressure ratio the machine's own figures rest.
    if view.has(&format!("{path}.pressure_ratio")) {
        return None;
    }
    let (written, driven) = (of("drive_ratio")?, of("pulley_diameter")?);
    let crank = of("crank_pulley_diameter")?;
    let gear = of("gear_ratio").unwrap_or(1.0);
    let computed = crank / driven * gear;
    let exchanged = driven / crank * gear;
    let slip = if differ(written, exchanged, RATIOS_AGREE) {
        String::new()
    } else {
        ". Swapped they would fit: pulley_diameter is the supercharger's, crank_pulley_diameter the crank's"
            .to_owned()
    };
    differ(written, computed, RATIOS_AGREE).then(|| {
        format!(
            "{} does not fit the pulleys, which make {computed:.3}: correct one of them, or leave one out{slip}",
            digits(written)
        )
    })
}

fn pressure(view: &AsWritten<'_>) -> Option<String> {
    if !view.has("site.pressure") {
        return None;
    }
    let (altitude, pressure) = (view.value("site.altitude")?, view.value("site.pressure")?);
    let standard = standard_air(altitude)?.pressure;
    if !differ(pressure, standard, LARGEST_DEVIATION) {
        return None;
    }
    let given = view.given("site.pressure")?;
    let deviation = pressure / standard - 1.0;
    let (side, meant) = if deviation > 0.0 {
        let there = given.show(0, pressure * standard / SEA_LEVEL_PRESSURE);
        let meant = format!(
            "; it looks like a weather report's figure, reduced to sea level: the air there would then be \
             at {there}; write what a barometer reads at the place, or leave pressure out"
        );
        ("above", meant)
    } else {
        let meant =
            "; write what a barometer reads at the place, or correct the altitude".to_owned();
        ("below", meant)
    };
    let option = match given.place() {
        super::super::fault::Place::Set(..) => {
            "; for another place also remove altitude: --set site.altitude="
        }
        _ => "",
    };
    Some(format!(
        "{} is {:.0} % {side} the standard {} at that altitude{meant}{option}",
        given.written(0),
        100.0 * deviation.abs(),
        given.show(0, standard)
    ))
}

/// A limit below the pressure outside is a gauge figure: asked about, not assumed.
fn limit(view: &AsWritten<'_>) -> Option<String> {
    let given = view.given("limits.max_manifold_pressure")?;
    let limit = given.largest();
    let (site, _) = view.outside();
    let written = given.written(0);
    (limit <= site).then(|| {
        format!(
            "{written} absolute is below ambient, {}: expected an absolute pressure; if it is boost, write \
             \"{written}g\"",
            given.show(0, site)
        )
    })
}

fn friction(view: &AsWritten<'_>) -> Option<String> {
    let (smallest, largest) = beside::stud_frictions(view);
    (smallest > largest).then(|| format!("is above the largest, {largest}: change one of them"))
}
