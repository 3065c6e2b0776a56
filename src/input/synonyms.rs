//! What people write and what it is called here: one row a word.
//!
//! A word that can mean one thing only is taken as that ([`SAME_VALUES`], [`PARTS`]). One that can mean
//! several is answered with the right words ([`MEANT_VALUES`]); so is a key or section under another
//! name ([`KEYS`], [`PLACES`]), because a build that keeps our names can be read by others.

use super::nearest::nearest;

/// A word and what it is called here.
type Row = (&'static str, &'static str);

/// Words behind `part =` and at the head of a `--set`.
const PARTS: &[Row] = &[
    ("air_filter", "filter"),
    ("air_cleaner", "filter"),
    ("airbox", "filter"),
    ("pipe", "duct"),
    ("tube", "duct"),
    ("hose", "duct"),
    ("ducting", "duct"),
    ("blower", "supercharger"),
    ("compressor", "turbo_compressor"),
    ("turbo", "turbo_compressor"),
    ("turbocharger", "turbo_compressor"),
    ("turbocompressor", "turbo_compressor"),
    ("intercooler", "cooler"),
    ("aftercooler", "cooler"),
    ("charge_cooler", "cooler"),
    ("charge_air_cooler", "cooler"),
    ("chargecooler", "cooler"),
    ("cac", "cooler"),
    ("heat_exchanger", "cooler"),
    ("throttle_body", "throttle"),
    ("throttle_valve", "throttle"),
    ("butterfly", "throttle"),
];

/// Values that mean the same.
const SAME_VALUES: &[Row] = &[
    ("gasoline", "petrol"),
    ("gasolene", "petrol"),
    ("petroleum_spirit", "petrol"),
    ("diesel_fuel", "diesel"),
    ("diesel_oil", "diesel"),
    ("gas_oil", "diesel"),
    ("gasoil", "diesel"),
    ("derv", "diesel"),
    ("methyl_alcohol", "methanol"),
    ("wood_alcohol", "methanol"),
    ("m100", "methanol"),
    ("ethyl_alcohol", "ethanol"),
    ("e100", "ethanol"),
    ("e_85", "e85"),
    ("twin_screw", "screw"),
    ("rotary_lobe", "roots"),
    ("lobe", "roots"),
    ("radial", "centrifugal"),
    ("compression_ignition", "diesel"),
    ("sparkignition", "spark_ignition"),
    ("otto", "spark_ignition"),
    ("cogged", "toothed"),
    ("cog", "toothed"),
    ("timing", "toothed"),
    ("synchronous", "toothed"),
    ("multi_rib", "ribbed"),
    ("multirib", "ribbed"),
    ("poly_v", "ribbed"),
    ("serpentine", "ribbed"),
    ("check_valve", "check"),
    ("flap", "check"),
    ("no", "none"),
    ("off", "none"),
    ("inlet_manifold", "manifold"),
    ("intake_manifold", "manifold"),
    ("plenum", "manifold"),
    ("cross_flow", "crossflow"),
    ("counter_flow", "counterflow"),
    ("contraflow", "counterflow"),
    ("ambient_air", "air"),
    ("aluminum", "aluminium"),
    ("stainless_steel", "stainless"),
    ("louvered", "louvred"),
    ("louver", "louvred"),
    ("offset_strip", "offset"),
    ("bar_and_plate", "plate"),
    ("tube_and_fin", "tube"),
    ("metric", "si"),
    ("imperial", "us"),
    ("usc", "us"),
];

/// Values that can mean one thing or another, or not quite the same: answered, not taken.
const MEANT_VALUES: &[Row] = &[
    ("gas", "petrol"),
    ("pump_gas", "petrol"),
    ("race_gas", "petrol"),
    ("alcohol", "methanol"),
    ("alcohol", "ethanol"),
    ("alky", "methanol"),
    ("biodiesel", "diesel"),
    ("flex_fuel", "e85"),
    ("blower", "roots"),
    ("blower", "screw"),
    ("blower", "centrifugal"),
    ("positive_displacement", "roots"),
    ("positive_displacement", "screw"),
    ("petrol", "spark_ignition"),
    ("gasoline", "spark_ignition"),
    ("si", "spark_ignition"),
    ("ci", "diesel"),
    ("coolant", "water"),
    ("glycol", "water"),
    ("liquid", "water"),
    ("yes", "check"),
    ("on", "check"),
    ("valve", "check"),
    ("valve", "regulated"),
    ("belt", "toothed"),
    ("v_belt", "ribbed"),
    ("compressor", "compressor outlet"),
    ("alloy", "aluminium"),
];

/// Keys. A word may stand in several rows: the first of ours that its section knows is meant.
const KEYS: &[Row] = &[
    ("name", "title"),
    ("unit", "units"),
    ("unit_system", "units"),
    // The site.
    ("elevation", "altitude"),
    ("height", "altitude"),
    ("baro", "pressure"),
    ("barometer", "pressure"),
    ("barometric_pressure", "pressure"),
    ("ambient_pressure", "pressure"),
    ("temp", "temperature"),
    ("air_temp", "temperature"),
    ("air_temperature", "temperature"),
    ("ambient_temp", "temperature"),
    ("ambient_temperature", "temperature"),
    ("humidity", "relative_humidity"),
    ("rh", "relative_humidity"),
    // The engine.
    ("capacity", "displacement"),
    ("swept_volume", "displacement"),
    ("size", "displacement"),
    ("cubic_inches", "displacement"),
    ("cyl", "cylinders"),
    ("cyls", "cylinders"),
    ("cylinder_count", "cylinders"),
    ("number_of_cylinders", "cylinders"),
    ("bore_diameter", "bore"),
    ("cylinder_bore", "bore"),
    ("crank_stroke", "stroke"),
    ("piston_stroke", "stroke"),
    ("cycle", "strokes"),
    ("cr", "compression_ratio"),
    ("comp_ratio", "compression_ratio"),
    ("static_compression", "compression_ratio"),
    ("compression", "compression_ratio"),
    ("ve", "volumetric_efficiency"),
    ("vol_eff", "volumetric_efficiency"),
    ("speeds", "rpm"),
    ("revs", "rpm"),
    ("rev_range", "rpm"),
    ("rpm_range", "rpm"),
    ("engine_speed", "rpm"),
    ("start", "from"),
    ("min", "from"),
    ("stop", "to"),
    ("end", "to"),
    ("max", "to"),
    ("increment", "step"),
    ("indicated_efficiency", "gross_indicated_efficiency"),
    ("thermal_efficiency", "gross_indicated_efficiency"),
    ("heat_loss", "heat_loss_share"),
    ("head_studs", "studs_per_cylinder"),
    ("studs", "studs_per_cylinder"),
    ("bolt_torque", "stud_torque"),
    ("torque", "stud_torque"),
    ("preload", "stud_preload"),
    // The fuel.
    ("type", "part"),
    ("type", "kind"),
    ("fuel_type", "kind"),
    ("lhv", "lower_heating_value"),
    ("heating_value", "lower_heating_value"),
    ("calorific_value", "lower_heating_value"),
    ("hc_ratio", "hydrogen_carbon_ratio"),
    ("oc_ratio", "oxygen_carbon_ratio"),
    ("afr", "air_fuel_ratio"),
    ("air_fuel", "air_fuel_ratio"),
    ("mixture", "air_fuel_ratio"),
    ("lam", "lambda"),
    ("lambda_value", "lambda"),
    ("shot", "per_stroke"),
    ("fuel_per_stroke", "per_stroke"),
    ("delivery", "per_stroke"),
    ("fuel_flow", "flow"),
    ("injector_size", "injector_flow"),
    ("injector_count", "injectors"),
    ("smoke_limit", "smallest_air_fuel_ratio"),
    ("min_air_fuel_ratio", "smallest_air_fuel_ratio"),
    ("minimum_air_fuel_ratio", "smallest_air_fuel_ratio"),
    ("min_afr", "smallest_air_fuel_ratio"),
    // Parts of the air path.
    ("dp", "pressure_drop"),
    ("drop", "pressure_drop"),
    ("pressure_loss", "pressure_drop"),
    ("rated_flow", "at_flow"),
    ("flow", "at_flow"),
    ("dia", "diameter"),
    ("inside_diameter", "diameter"),
    ("bore", "diameter"),
    ("elbows", "bends"),
    ("pulley_ratio", "drive_ratio"),
    ("belt_ratio", "drive_ratio"),
    ("overdrive", "drive_ratio"),
    ("ratio", "drive_ratio"),
    ("ratio", "pressure_ratio"),
    ("pr", "pressure_ratio"),
    ("slip", "slip_speed"),
    ("volume_ratio", "internal_volume_ratio"),
    ("pulley", "pulley_diameter"),
    ("blower_pulley", "pulley_diameter"),
    ("crank_pulley", "crank_pulley_diameter"),
    ("clutch", "engaged"),
    ("max_rpm", "max_speed"),
    ("redline", "max_speed"),
    ("max_shaft_speed", "max_speed"),
    ("speed_limit", "max_speed"),
    ("compressor_map", "map"),
    ("map_file", "map"),
    ("eff", "efficiency"),
    ("eff", "effectiveness"),
    ("adiabatic_efficiency", "efficiency"),
    ("isentropic_efficiency", "efficiency"),
    ("turbine_efficiency", "efficiency"),
    ("mech_eff", "mechanical_efficiency"),
    ("efficiency", "effectiveness"),
    ("cooler_efficiency", "effectiveness"),
    ("ambient_flow", "sink_flow"),
    ("coolant_flow", "sink_flow"),
    ("water_flow", "sink_flow"),
    ("cooling_flow", "sink_flow"),
    ("coolant", "sink"),
    ("medium", "sink"),
    ("coolant_temperature", "sink_temperature"),
    ("water_temperature", "sink_temperature"),
    ("road_speed", "vehicle_speed"),
    ("mass", "metal_mass"),
    ("ice", "ice_mass"),
    ("tank", "tank_volume"),
    // Exhaust side and limits.
    ("area", "effective_area"),
    ("nozzle_area", "effective_area"),
    ("turbine_area", "effective_area"),
    ("exducer_diameter", "wheel_diameter"),
    ("inducer_diameter", "wheel_diameter"),
    ("gate", "wastegate"),
    ("waste_gate", "wastegate"),
    ("wg", "wastegate"),
    ("boost", "boost_limit"),
    ("boost", "bypass_pressure"),
    ("max_boost", "boost_limit"),
    ("boost_pressure", "boost_limit"),
    ("target_boost", "boost_limit"),
    ("boost_target", "boost_limit"),
    ("crack_pressure", "boost_limit"),
    ("valve_size", "valve_diameter"),
    ("max_share", "largest_share"),
    ("max_boost", "max_manifold_pressure"),
    ("max_map", "max_manifold_pressure"),
    ("max_iat", "max_charge_temperature"),
    ("max_intake_temperature", "max_charge_temperature"),
    ("max_egt", "max_exhaust_temperature"),
    ("max_turbine_inlet_temperature", "max_exhaust_temperature"),
    ("max_peak_pressure", "max_cylinder_pressure"),
    ("max_pcp", "max_cylinder_pressure"),
    ("surge_margin", "min_surge_margin"),
    ("max_duty", "max_injector_duty"),
    // Sections of the whole.
    ("ambient", "site"),
    ("atmosphere", "site"),
    ("conditions", "site"),
    ("environment", "site"),
    ("location", "site"),
    ("motor", "engine"),
    ("fuel_system", "fuel"),
    ("intake", "air_path"),
    ("induction", "air_path"),
    ("parts", "air_path"),
    ("exhaust_pipe", "exhaust"),
    ("exhaust_system", "exhaust"),
    ("tailpipe", "exhaust"),
    ("limit", "limits"),
];

/// Sections that stand within others: at the head of a `--set` they are found by themselves, in a file
/// the reader hears where they belong.
const PLACES: &[Row] = &[
    ("wastegate", "turbine.wastegate"),
    ("combustion", "engine.combustion"),
    ("friction", "engine.friction"),
    ("head", "engine.head"),
    ("rated", "air_path.rated"),
    ("core", "air_path.core"),
];

/// One form for what people type.
fn plain(written: &str) -> String {
    written.trim().to_lowercase().replace(['-', ' '], "_")
}

fn rows<'r>(table: &'r [Row], word: &'r str) -> impl Iterator<Item = &'static str> + 'r {
    table
        .iter()
        .filter(move |(written, _)| *written == word)
        .map(|(_, ours)| *ours)
}

/// Our word for a part, where it is one; `words` are ours.
pub(super) fn part(written: &str, words: &[&'static str]) -> Option<&'static str> {
    let written = plain(written);
    let own = words.iter().copied().find(|word| *word == written);
    own.or_else(|| rows(PARTS, &written).next())
}

/// Which of some choices was written, under its own name or one that means the same.
pub(super) fn choice<T: Copy>(written: &str, choices: &[(&'static str, T)]) -> Option<T> {
    let written = plain(written);
    let named = |name: &str| choices.iter().find(|(word, _)| plain(word) == name);
    let found = named(&written).or_else(|| rows(SAME_VALUES, &written).find_map(named));
    found.map(|(_, value)| *value)
}

/// Which of some choices may have been meant, the likeliest first.
pub(super) fn meant_choices(written: &str, words: &[&'static str]) -> Vec<&'static str> {
    let written = plain(written);
    let known: Vec<&str> = rows(MEANT_VALUES, &written)
        .filter(|word| words.contains(word))
        .collect();
    if known.is_empty() {
        nearest(&written, words.iter().copied())
            .into_iter()
            .collect()
    } else {
        known
    }
}

/// The key of a section that was meant by another word for it.
pub(super) fn key(written: &str, known: &[&'static str]) -> Option<&'static str> {
    rows(KEYS, &plain(written)).find(|ours| known.contains(ours))
}

/// Words that are taken as one of ours.
pub(super) fn of(ours: &'static str) -> impl Iterator<Item = &'static str> {
    let rows = PARTS.iter().chain(SAME_VALUES);
    rows.filter(move |row| row.1 == ours).map(|row| row.0)
}

/// The dotted name of a section that stands within another.
pub(super) fn place(written: &str) -> Option<&'static str> {
    rows(PLACES, &plain(written)).next()
}

/// The same of one that is misspelt.
pub(super) fn near_place(written: &str) -> Option<&'static str> {
    nearest(written, PLACES.iter().map(|(name, _)| *name)).and_then(place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::keys::SECTIONS;
    use crate::input::keys::row::Form;
    use crate::input::part_words::PART_WORDS;

    #[test]
    fn every_row_leads_to_a_word_that_the_tables_of_keys_know() {
        let keys = || SECTIONS.iter().flat_map(|section| section.keys);
        for (written, ours) in KEYS {
            assert!(keys().any(|key| key.name == *ours), "{written} -> {ours}");
        }
        for (written, ours) in SAME_VALUES.iter().chain(MEANT_VALUES) {
            let said =
                keys().any(|key| matches!(key.form, Form::Choice(words) if words.contains(ours)));
            assert!(said, "{written} -> {ours}");
        }
        for (written, ours) in PARTS {
            assert!(PART_WORDS.contains(ours), "{written} -> {ours}");
        }
        for (written, ours) in PLACES {
            let path = ours.replace("air_path", "cooler");
            assert!(
                SECTIONS.iter().any(|section| section.path == path),
                "{written} -> {ours}"
            );
        }
    }

    #[test]
    fn every_word_is_written_in_the_form_that_is_looked_up() {
        for (written, _) in [PARTS, SAME_VALUES, MEANT_VALUES, KEYS, PLACES].concat() {
            assert_eq!(written, plain(written));
        }
    }

    #[test]
    fn no_word_of_ours_means_another_of_the_same_choice() {
        for word in PART_WORDS {
            assert_eq!(rows(PARTS, word).next(), None, "{word}");
        }
        for (written, _) in SAME_VALUES {
            assert!(rows(SAME_VALUES, written).count() == 1, "{written}");
        }
    }
}
