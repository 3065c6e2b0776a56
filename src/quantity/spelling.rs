//! Which unit a spelling means.

use super::table::UNITS;
use super::unit::{Dimension, PressureReading, Unit};

/// Endings that say which kind of pressure a unit means. Longer ones first.
const PRESSURE_ENDINGS: &[(&str, PressureReading)] = &[
    ("difference", PressureReading::Difference),
    ("absolute", PressureReading::Absolute),
    ("(gauge)", PressureReading::Gauge),
    ("gauge", PressureReading::Gauge),
    ("gage", PressureReading::Gauge),
    ("boost", PressureReading::Gauge),
    ("(abs)", PressureReading::Absolute),
    ("abs", PressureReading::Absolute),
    ("diff", PressureReading::Difference),
    ("(a)", PressureReading::Absolute),
    ("(g)", PressureReading::Gauge),
    ("_a", PressureReading::Absolute),
    ("_g", PressureReading::Gauge),
    ("a", PressureReading::Absolute),
    ("g", PressureReading::Gauge),
    ("d", PressureReading::Difference),
];

/// The unit of a spelling, and what the spelling said about a pressure. Upper and lower case are
/// told apart only where they mean something (MPa is not mPa).
pub fn unit_named(text: &str) -> Option<(&'static Unit, PressureReading)> {
    let wanted = normalised(text);
    named(&wanted).or_else(|| named(&short_times(&wanted)))
}

fn named(wanted: &str) -> Option<(&'static Unit, PressureReading)> {
    if let Some(unit) = known(wanted) {
        return Some((unit, PressureReading::Unsaid));
    }
    PRESSURE_ENDINGS.iter().find_map(|&(ending, reading)| {
        let cut = wanted.len().checked_sub(ending.len())?;
        if !wanted.is_char_boundary(cut) || !wanted[cut..].eq_ignore_ascii_case(ending) {
            return None;
        }
        let unit = known(wanted[..cut].trim())?;
        (unit.dimension == Dimension::Pressure).then_some((unit, reading))
    })
}

/// All units of a dimension.
pub fn units_of(dimension: Dimension) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.dimension == dimension)
}

/// The spelling of these dimensions that lies nearest to a text, where one is near: within two
/// letters and at most half of the word.
pub fn nearest_unit(text: &str, dimensions: &[Dimension]) -> Option<&'static str> {
    let wanted = normalised(text).to_lowercase();
    let reach = (wanted.chars().count() / 2).min(2);
    UNITS
        .iter()
        .filter(|unit| dimensions.contains(&unit.dimension))
        .flat_map(|unit| unit.spellings)
        .map(|spelling| {
            (
                strsim::osa_distance(&wanted, &spelling.to_lowercase()),
                *spelling,
            )
        })
        .filter(|(distance, _)| *distance <= reach)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, spelling)| spelling)
}

fn known(wanted: &str) -> Option<&'static Unit> {
    let exact = UNITS.iter().find(|unit| unit.spellings.contains(&wanted));
    exact.or_else(|| {
        UNITS.iter().find(|unit| {
            let same = |spelling: &&&str| spelling.eq_ignore_ascii_case(wanted);
            unit.spellings
                .iter()
                .find(same)
                .is_some_and(|spelling| !prefix_changed(spelling, wanted))
        })
    })
}

/// Whether the two differ by milli against mega.
fn prefix_changed(spelling: &str, wanted: &str) -> bool {
    let (a, b) = (spelling.as_bytes().first(), wanted.as_bytes().first());
    spelling.len() > 1 && matches!((a, b), (Some(b'm'), Some(b'M')) | (Some(b'M'), Some(b'm')))
}

/// One form for what people type: raised digits, degree signs, dots and blanks.
fn normalised(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut letters = text.trim().chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            // "lbf.ft" is a product, "cu. in." and "mm." are short words.
            '.' if letters.peek().is_some_and(|next| next.is_alphabetic()) => plain.push(' '),
            '²' | '₂' => plain.push('2'),
            '³' => plain.push('3'),
            '°' | 'º' | '˚' => plain.push_str("deg"),
            '℃' => plain.push_str("degC"),
            '℉' => plain.push_str("degF"),
            'µ' | 'μ' => plain.push('u'),
            '″' | '”' | '“' => plain.push('"'),
            '′' | '’' => plain.push('\''),
            '⁻' | '−' | '–' => plain.push('-'),
            '¹' => plain.push('1'),
            // Without width: a blank or byte-order mark that came along with copied text.
            '.' | '^' | '\u{200b}' | '\u{2060}' | '\u{feff}' => {}
            '·' | '*' | '⋅' | '×' => plain.push(' '),
            blank if blank.is_whitespace() => plain.push(' '),
            other => plain.push(other),
        }
    }
    let words: Vec<&str> = plain.split(' ').filter(|word| !word.is_empty()).collect();
    words
        .join(" ")
        .replace(" per ", "/")
        .replace(" / ", "/")
        .replace(" /", "/")
        .replace("/ ", "/")
}

/// With the times behind a stroke as the table has them: "lb/minute" is "lb/min".
fn short_times(text: &str) -> String {
    let mut steps = text.split('/');
    let mut short = steps.next().unwrap_or_default().to_owned();
    for step in steps {
        let step = match step.to_lowercase().as_str() {
            "hr" | "hour" => "h",
            "sec" | "second" => "s",
            "minute" => "min",
            _ => step,
        };
        short.push('/');
        short.push_str(step);
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Rounding of the two operations in a conversion there and back.
    const TWO_ROUNDINGS: f64 = 4.0 * f64::EPSILON;

    fn si(value: f64, name: &str) -> f64 {
        unit_named(name).unwrap().0.to_si(value)
    }

    #[test]
    #[allow(clippy::float_cmp, reason = "the claim is exactness")]
    fn inches_cubed_make_a_foot_exactly() {
        assert_eq!(si(1728.0, "in3"), si(1.0, "ft3"));
        assert_eq!(si(231.0, "in3"), si(1.0, "US gal"));
        assert_eq!(si(1.0, "gal"), 3.785_411_784e-3);
        assert_eq!(si(1.0, "imp gal"), 4.546_09e-3);
        assert_eq!(si(4.0, "qt"), si(1.0, "gal"));
        assert_eq!(si(16.0, "oz"), si(1.0, "lb"));
        assert_eq!(si(16.0, "ozf"), si(1.0, "lbf"));
        assert_eq!(si(760.0, "torr"), si(1.0, "atm"));
        assert_eq!(si(144.0, "in2"), si(1.0, "ft2"));
        assert_eq!(si(12.0, "in"), si(1.0, "ft"));
        assert_eq!(si(4.5, "L"), 0.0045);
        assert_eq!(si(373.0, "in3"), 0.006112374872);
    }

    #[test]
    fn factors_follow_from_their_definitions() {
        let (pound, inch, gravity) = (0.45359237, 0.0254, 9.80665);
        let last_digits = 1e-15;
        assert_relative_eq!(
            si(1.0, "psi"),
            pound * gravity / (inch * inch),
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "inHg"),
            13595.1 * gravity * inch,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "mmHg"),
            13.5951 * gravity,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "inH2O"),
            1000.0 * gravity * inch,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "hp"),
            550.0 * 12.0 * inch * pound * gravity,
            max_relative = last_digits
        );
        assert_relative_eq!(
            si(1.0, "lbf ft"),
            12.0 * inch * pound * gravity,
            max_relative = last_digits
        );
        assert_relative_eq!(si(1.0, "PS"), 75.0 * gravity, max_relative = last_digits);
        assert_relative_eq!(
            si(1.0, "lb/(hp h)"),
            pound / (si(1.0, "hp") * 3600.0),
            max_relative = last_digits
        );
        // The International Table's unit: 1 Btu/lb is 2326 J/kg.
        let btu = 2326.0 * pound;
        for (name, factor) in [
            ("Btu/s", btu),
            ("Btu/min", btu / 60.0),
            ("Btu/h", btu / 3600.0),
            ("Btu/(h degF)", btu / 3600.0 * 9.0 / 5.0),
            ("Btu/(h ft degF)", btu / 3600.0 * 9.0 / 5.0 / (12.0 * inch)),
            ("gal/min", 231.0 * inch.powi(3) / 60.0),
            ("gal/h", 231.0 * inch.powi(3) / 3600.0),
            ("imp gal/h", 4.546_09e-3 / 3600.0),
            ("lb/gal", pound / (231.0 * inch.powi(3))),
            ("lbf in", inch * pound * gravity),
            ("kgf/cm2", 1e4 * gravity),
            ("krpm", 1e3),
        ] {
            // Three roundings in the check itself.
            assert_relative_eq!(si(1.0, name), factor, max_relative = 3.0 * last_digits);
        }
        assert_relative_eq!(
            si(1.0, "mph"),
            5280.0 * 12.0 * inch / 3600.0,
            max_relative = last_digits
        );
    }

    /// Cross-check against the units library `uom`. It rounds: its `psi` is 6894.757 Pa, 4e-8 off
    /// the definition, its `pound_force_per_square_inch` 9e-8, its pound 7e-8; inch of mercury,
    /// cubic inch, pound a minute and horsepower carry seven digits. Hence 1e-7 to 1e-6.
    #[test]
    fn factors_agree_with_a_units_library() {
        use uom::si::f64 as u;
        use uom::si::{
            energy, force, length, mass, mass_rate, power, pressure, volume, volume_rate,
        };
        let psi = u::Pressure::new::<pressure::psi>(1.0).get::<pressure::pascal>();
        assert_relative_eq!(si(1.0, "psi"), psi, max_relative = 2e-7);
        let inhg = u::Pressure::new::<pressure::inch_of_mercury>(1.0).get::<pressure::pascal>();
        assert_relative_eq!(si(1.0, "inHg"), inhg, max_relative = 1e-6);
        let lb = u::Mass::new::<mass::pound>(1.0).get::<mass::kilogram>();
        assert_relative_eq!(si(1.0, "lb"), lb, max_relative = 1e-7);
        let foot = u::Length::new::<length::foot>(1.0).get::<length::meter>();
        assert_relative_eq!(si(1.0, "ft"), foot, max_relative = 1e-12);
        let in3 = u::Volume::new::<volume::cubic_inch>(1.0).get::<volume::cubic_meter>();
        assert_relative_eq!(si(1.0, "in3"), in3, max_relative = 1e-6);
        let lb_min = u::MassRate::new::<mass_rate::pound_per_minute>(1.0);
        let lb_min = lb_min.get::<mass_rate::kilogram_per_second>();
        assert_relative_eq!(si(1.0, "lb/min"), lb_min, max_relative = 1e-6);
        let gallon = u::Volume::new::<volume::gallon>(1.0).get::<volume::cubic_meter>();
        assert_relative_eq!(si(1.0, "gal"), gallon, max_relative = 1e-6);
        let imperial = u::Volume::new::<volume::gallon_imperial>(1.0).get::<volume::cubic_meter>();
        assert_relative_eq!(si(1.0, "imp gal"), imperial, max_relative = 1e-6);
        let torr = u::Pressure::new::<pressure::torr>(1.0).get::<pressure::pascal>();
        assert_relative_eq!(si(1.0, "torr"), torr, max_relative = 1e-6);
        let gal_min = u::VolumeRate::new::<volume_rate::gallon_per_minute>(1.0);
        let gal_min = gal_min.get::<volume_rate::cubic_meter_per_second>();
        assert_relative_eq!(si(1.0, "gal/min"), gal_min, max_relative = 1e-6);
        let btu = u::Energy::new::<energy::btu_it>(1.0).get::<energy::joule>();
        assert_relative_eq!(si(60.0, "Btu/min"), btu, max_relative = 1e-6);
        let ounce = u::Mass::new::<mass::ounce>(1.0).get::<mass::kilogram>();
        assert_relative_eq!(si(1.0, "oz"), ounce, max_relative = 1e-6);
        let ozf = u::Force::new::<force::ounce_force>(1.0).get::<force::newton>();
        assert_relative_eq!(si(1.0, "ozf"), ozf, max_relative = 1e-6);
        let hp = u::Power::new::<power::horsepower>(1.0).get::<power::watt>();
        assert_relative_eq!(si(1.0, "hp"), hp, max_relative = 1e-6);
    }

    #[test]
    fn every_unit_goes_out_and_in_without_loss() {
        for unit in UNITS {
            for value in [-40.0, 0.1, 1.0, 37.9, 1e5] {
                let back = unit.from_si(unit.to_si(value));
                let zero = unit.offset.max(1.0);
                assert_relative_eq!(
                    back,
                    value,
                    epsilon = zero * TWO_ROUNDINGS,
                    max_relative = TWO_ROUNDINGS
                );
                let back = unit.difference_from_si(unit.difference_to_si(value));
                assert_relative_eq!(back, value, max_relative = TWO_ROUNDINGS);
            }
        }
    }

    #[test]
    fn every_spelling_finds_its_unit_and_no_other() {
        for unit in UNITS {
            for spelling in unit.spellings {
                assert_eq!(*spelling, normalised(spelling), "not in normal form");
                let (found, reading) = unit_named(spelling).unwrap();
                assert_eq!(found.name(), unit.name(), "{spelling}");
                assert_eq!(reading, PressureReading::Unsaid);
            }
        }
    }

    #[test]
    fn spellings_with_signs_and_raised_digits_are_understood() {
        for (spelling, name) in [
            ("°C", "degC"),
            ("º C", "degC"),
            ("℃", "degC"),
            ("m³/s", "m3/s"),
            ("cm²", "cm2"),
            ("N·m", "N m"),
            ("lbf·ft", "lbf ft"),
            ("lb / min", "lb/min"),
            ("KPA", "kPa"),
            ("PSI", "psi"),
            ("kg/m^3", "kg/m3"),
            ("min⁻¹", "rpm"),
            ("l/min", "L/min"),
            ("mm.", "mm"),
            ("cu. in.", "in3"),
            ("lbf.ft", "lbf ft"),
            ("ft.-lbs.", "lbf ft"),
            ("ft-lb", "lbf ft"),
            ("BTU/hr", "Btu/h"),
            ("lb per minute", "lb/min"),
            ("kg / hour", "kg/h"),
            ("Gal/Hr", "gal/h"),
            ("m/sec", "m/s"),
            ("\u{a0}kPa\u{202f}", "kPa"),
            ("deg\u{a0}F", "degF"),
            ("kPa\u{200b}", "kPa"),
            ("Psi", "psi"),
            ("Kpa", "kPa"),
            ("CC", "cc"),
            ("ps", "PS"),
            ("in^3", "in3"),
            ("ci", "in3"),
            ("CID", "in3"),
            ("ft.lbs", "lbf ft"),
            ("oz", "oz"),
        ] {
            assert_eq!(unit_named(spelling).unwrap().0.name(), name, "{spelling}");
        }
    }

    #[test]
    fn gauge_absolute_and_difference_are_told_apart() {
        use PressureReading::{Absolute, Difference, Gauge, Unsaid};
        for (spelling, name, reading) in [
            ("psig", "psi", Gauge),
            ("psia", "psi", Absolute),
            ("psid", "psi", Difference),
            ("barg", "bar", Gauge),
            ("bar(a)", "bar", Absolute),
            ("kPag", "kPa", Gauge),
            ("kPa abs", "kPa", Absolute),
            ("kPa gauge", "kPa", Gauge),
            ("inHg", "inHg", Unsaid),
            ("bar absolute", "bar", Absolute),
            ("mbar g", "mbar", Gauge),
        ] {
            let (unit, said) = unit_named(spelling).unwrap();
            assert_eq!((unit.name(), said), (name, reading), "{spelling}");
        }
    }

    #[test]
    fn milli_is_not_taken_for_mega() {
        assert!(unit_named("mPa").is_none());
        assert!(unit_named("Mbar").is_none());
        assert!(unit_named("mW").is_none());
        assert!(unit_named("Mg").is_none());
    }
}
