//! The words that `part =` takes, which also name a part in a dotted key.

/// The parts of an air path.
pub(super) const PART_WORDS: [&str; 6] = [
    "filter",
    "duct",
    "supercharger",
    "turbo_compressor",
    "cooler",
    "throttle",
];
