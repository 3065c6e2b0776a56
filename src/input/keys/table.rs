//! The key table: every section of a build, and which one a path means.

use super::row::Section;
use super::{air_path, cooler, engine, exhaust, file, fuel, limits, site, supercharger};

/// Every section of a build. Sizes of the engine come before what is held to them: a key that cannot
/// be is no measure for those after it.
pub(in crate::input) static SECTIONS: [&Section; 20] = [
    &file::FILE,
    &site::SITE,
    &engine::ENGINE,
    &engine::ENGINE_RPM,
    &engine::ENGINE_COMBUSTION,
    &engine::ENGINE_FRICTION,
    &engine::ENGINE_HEAD,
    &fuel::FUEL,
    &air_path::FILTER,
    &air_path::DUCT,
    &air_path::THROTTLE,
    &supercharger::SUPERCHARGER,
    &air_path::TURBO_COMPRESSOR,
    &cooler::COOLER,
    &cooler::COOLER_RATED,
    &cooler::COOLER_CORE,
    &exhaust::TURBINE,
    &exhaust::TURBINE_WASTEGATE,
    &exhaust::EXHAUST,
    &limits::LIMITS,
];

/// The section of a dotted path without numbers.
pub(in crate::input) fn section(path: &str) -> Option<&'static Section> {
    SECTIONS.into_iter().find(|section| section.path == path)
}
