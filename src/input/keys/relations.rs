//! What keys are to each other: which say one thing, which need another, which have no effect.
//!
//! Every row sees the build as written, options included, and never a value that a study moved.
//! Keys that have to agree in size stand in [`crate::input::sense`], keys of which each follows from
//! the others in [`crate::input::alternatives`].

/// One way to say a thing.
pub(in crate::input) struct Alternative {
    /// Any of these keys says it.
    pub keys: &'static [&'static str],
    /// Keys that mean something beside them only.
    pub beside: &'static [&'static str],
}

/// What two alternatives are to each other.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum Both {
    /// A fault: only one may be given.
    Refused,
    /// One of them serves, which its section says.
    Borne,
}

/// A thing that can be said in several alternatives.
pub(in crate::input) struct Choice {
    /// The section, a part by its word, without numbers.
    pub section: &'static str,
    pub alternatives: &'static [Alternative],
    pub both: Both,
    /// With this key both are meant.
    pub unless: Option<&'static str>,
}

const fn way(keys: &'static [&'static str]) -> Alternative {
    Alternative { keys, beside: &[] }
}

const fn with(keys: &'static [&'static str], beside: &'static [&'static str]) -> Alternative {
    Alternative { keys, beside }
}

const fn one_of(section: &'static str, alternatives: &'static [Alternative]) -> Choice {
    Choice {
        section,
        alternatives,
        both: Both::Refused,
        unless: None,
    }
}

/// Things that can be said in one of several alternatives.
pub(in crate::input) const CHOICES: &[Choice] = &[
    one_of(
        "site",
        &[way(&["temperature"]), way(&["temperature_offset"])],
    ),
    one_of(
        "fuel",
        &[
            way(&["air_fuel_ratio"]),
            way(&["lambda"]),
            with(&["per_stroke"], &["smallest_air_fuel_ratio"]),
            way(&["flow"]),
        ],
    ),
    one_of(
        "engine.head",
        &[
            way(&["stud_preload"]),
            with(
                &["stud_torque"],
                &[
                    "stud_diameter",
                    "stud_pitch",
                    "smallest_stud_friction",
                    "largest_stud_friction",
                ],
            ),
        ],
    ),
    one_of(
        "duct",
        &[
            way(&["diameter", "length", "bends"]),
            with(
                &["pressure_drop"],
                &["at_flow", "at_pressure", "at_temperature"],
            ),
        ],
    ),
    one_of("supercharger", &[way(&["slip_speed"]), way(&["map"])]),
    one_of(
        "supercharger",
        &[way(&["wrap_angle"]), way(&["center_distance"])],
    ),
    Choice {
        section: "turbo_compressor",
        alternatives: &[way(&["efficiency"]), way(&["map"])],
        both: Both::Borne,
        // Beside a given ratio the map is drawn, whatever gives the efficiency.
        unless: Some("pressure_ratio"),
    },
    one_of(
        "cooler",
        &[way(&["effectiveness"]), way(&["rated"]), way(&["core"])],
    ),
    one_of(
        "cooler",
        &[
            way(&["sink_flow"]),
            with(&["vehicle_speed"], &["duct_pressure_coefficient"]),
            way(&["fan"]),
        ],
    ),
    one_of(
        "cooler",
        &[way(&["sink_temperature"]), way(&["sink_temperature_rise"])],
    ),
    one_of(
        "cooler.rated",
        &[
            way(&["effectiveness"]),
            way(&["heat"]),
            way(&["charge_outlet_temperature"]),
        ],
    ),
    one_of(
        "cooler.core",
        &[way(&["material"]), way(&["fin_conductivity"])],
    ),
    one_of(
        "turbine",
        &[
            way(&["effective_area"]),
            with(
                &["choked_corrected_flow"],
                &["reference_temperature", "reference_pressure"],
            ),
            way(&["map"]),
        ],
    ),
    one_of(
        "turbine.wastegate",
        &[way(&["largest_share"]), way(&["valve_diameter"])],
    ),
];

/// Own numbers of a thing that a word names: a new word takes the numbers of the old one with it.
pub(in crate::input) struct Named {
    pub section: &'static str,
    pub word: &'static str,
    pub own: &'static [&'static str],
}

pub(in crate::input) const NAMED: Named = Named {
    section: "fuel",
    word: "kind",
    own: &[
        "lower_heating_value",
        "hydrogen_carbon_ratio",
        "oxygen_carbon_ratio",
        "density",
        "latent_heat",
    ],
};

/// Something that holds of a section as written.
#[derive(Debug, Clone, Copy)]
pub(in crate::input) enum When {
    /// A key is there, right or wrong.
    Given(&'static str),
    /// One of several is there.
    AnyGiven(&'static [&'static str]),
    /// A key is not there.
    Absent(&'static str),
    /// A key has this word.
    Word(&'static str, &'static str),
}

/// How much it matters that a key has no effect.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum Weight {
    /// It was meant for something else: a fault.
    Refused,
    /// It waits for its use: a remark.
    NotUsed,
}

/// Keys that have no effect where all of `when` hold.
pub(in crate::input) struct Idle {
    pub section: &'static str,
    pub keys: &'static [&'static str],
    pub when: &'static [When],
    pub weight: Weight,
    pub why: &'static str,
}

/// A key that has to be there where all of `when` hold.
pub(in crate::input) struct Needs {
    pub section: &'static str,
    pub key: &'static str,
    pub when: &'static [When],
}

use When::{Absent, AnyGiven, Given, Word};

const fn refused(
    section: &'static str,
    keys: &'static [&'static str],
    when: &'static [When],
    why: &'static str,
) -> Idle {
    Idle {
        section,
        keys,
        when,
        weight: Weight::Refused,
        why,
    }
}

const fn not_used(
    section: &'static str,
    keys: &'static [&'static str],
    when: &'static [When],
    why: &'static str,
) -> Idle {
    Idle {
        section,
        keys,
        when,
        weight: Weight::NotUsed,
        why,
    }
}

const fn needs(section: &'static str, key: &'static str, when: &'static [When]) -> Needs {
    Needs { section, key, when }
}

const BYPASS_KEYS: &[&str] = &["bypass_pressure", "bypass_at", "bypass_drop"];
const WATER_KEYS: &[&str] = &[
    "tank_volume",
    "ice_mass",
    "radiator_conductance",
    "circuit_pressure",
];
const NO_WATER: &str = "it belongs to a water circuit: set sink = \"water\", or leave it out";
/// A supercharger that is described by its own figures.
const OWN: When = Absent("pressure_ratio");

/// Of several rows that speak of one key the first counts.
pub(in crate::input) const IDLE: &[Idle] = &[
    not_used(
        "engine.head",
        &[
            "stud_diameter",
            "stud_pitch",
            "smallest_stud_friction",
            "largest_stud_friction",
        ],
        &[Absent("stud_torque")],
        "it belongs to stud_torque",
    ),
    refused(
        "fuel",
        &["smallest_air_fuel_ratio"],
        &[
            AnyGiven(&["air_fuel_ratio", "lambda", "flow"]),
            Absent("per_stroke"),
        ],
        "a smoke limiter belongs to per_stroke",
    ),
    not_used(
        "fuel",
        &["latent_heat"],
        &[Absent("evaporated_before_manifold")],
        "it belongs to evaporated_before_manifold",
    ),
    not_used(
        "fuel",
        &["injector_rated_pressure_drop", "injector_pressure_drop"],
        &[Absent("injectors"), Absent("injector_flow")],
        "injectors and injector_flow are not set",
    ),
    refused(
        "duct",
        &["at_flow", "at_pressure", "at_temperature"],
        &[
            AnyGiven(&["diameter", "length", "bends"]),
            Absent("pressure_drop"),
        ],
        "the drop is calculated from the duct's sizes",
    ),
    refused(
        "supercharger",
        &["efficiency"],
        &[OWN],
        "it belongs to pressure_ratio; a belt-driven supercharger has indicated_efficiency, \
         mechanical_efficiency and drive_efficiency",
    ),
    refused(
        "supercharger",
        &[
            "displacement",
            "slip_speed",
            "internal_volume_ratio",
            "indicated_efficiency",
            "no_load_power",
            "at_speed",
        ],
        &[OWN, Word("kind", "centrifugal")],
        "it belongs to positive-displacement rotors (kind = \"roots\" or \"screw\")",
    ),
    refused(
        "supercharger",
        &["at_speed"],
        &[OWN, Given("kind"), Absent("no_load_power")],
        "it belongs to no_load_power",
    ),
    refused(
        "supercharger",
        BYPASS_KEYS,
        &[OWN, Absent("bypass")],
        "no bypass is set",
    ),
    not_used(
        "supercharger",
        BYPASS_KEYS,
        &[OWN, Word("bypass", "none")],
        "the bypass is \"none\"",
    ),
    not_used(
        "supercharger",
        &["bypass_pressure", "bypass_at"],
        &[OWN, Word("bypass", "check")],
        "a check flap holds no pressure; a \"regulated\" bypass does",
    ),
    not_used(
        "supercharger",
        &[
            "belt",
            "center_distance",
            "wrap_angle",
            "belt_mass_per_length",
            "crank_pulley_diameter",
            "gear_ratio",
        ],
        &[OWN, Absent("pulley_diameter")],
        "without pulley_diameter the belt is not calculated",
    ),
    not_used(
        "cooler",
        &["arrangement"],
        &[Absent("rated"), Absent("core")],
        "the cooler is described by its effectiveness alone",
    ),
    refused(
        "cooler",
        &["vehicle_speed", "fan"],
        &[Word("sink", "water")],
        "it moves air; the sink is water, whose flow is sink_flow",
    ),
    refused("cooler", WATER_KEYS, &[Absent("sink")], NO_WATER),
    refused("cooler", WATER_KEYS, &[Word("sink", "air")], NO_WATER),
    refused(
        "cooler",
        &["duct_pressure_coefficient"],
        &[Absent("vehicle_speed")],
        "it belongs to vehicle_speed",
    ),
    refused(
        "turbine",
        &["reference_temperature", "reference_pressure"],
        &[Absent("choked_corrected_flow")],
        "it belongs to choked_corrected_flow",
    ),
    refused(
        "turbine",
        &["flow_law"],
        &[Given("map")],
        "the map gives the flow",
    ),
];

/// What a key needs beside it.
pub(in crate::input) const NEEDS: &[Needs] = &[
    needs("engine.head", "stud_diameter", &[Given("stud_torque")]),
    needs("fuel", "injectors", &[Given("injector_flow")]),
    needs("fuel", "injector_flow", &[Given("injectors")]),
    needs("supercharger", "efficiency", &[Given("pressure_ratio")]),
    needs(
        "supercharger",
        "displacement",
        &[OWN, Word("kind", "roots")],
    ),
    needs(
        "supercharger",
        "displacement",
        &[OWN, Word("kind", "screw")],
    ),
    needs(
        "supercharger",
        "internal_volume_ratio",
        &[OWN, Word("kind", "screw")],
    ),
    needs(
        "supercharger",
        "at_speed",
        &[OWN, Given("kind"), Given("no_load_power")],
    ),
    needs(
        "supercharger",
        "bypass_pressure",
        &[OWN, Word("bypass", "regulated")],
    ),
    needs("cooler", "sink_drop_flow", &[Given("sink_pressure_drop")]),
    needs("cooler", "sink_pressure_drop", &[Given("sink_drop_flow")]),
    needs(
        "turbine",
        "reference_temperature",
        &[Given("choked_corrected_flow")],
    ),
    needs(
        "turbine",
        "reference_pressure",
        &[Given("choked_corrected_flow")],
    ),
];
