//! The top of the file.

use super::row::{Form, Key, Section, choice, key, section, words};
use crate::quantity::UnitSystem;

/// The words for the reader's units.
pub(in crate::input) const UNITS: [(&str, UnitSystem); 2] =
    [("si", UnitSystem::Si), ("us", UnitSystem::Us)];

section! {
    FILE: "", "the file itself", "Keys at the top of the file.";
    TITLE = key("title", Form::Text, "Name of the build, shown with every result.").without("the file's name");
    UNITS_KEY = key("units", choice(&words(&UNITS)), "Units of results and messages: si for kPa, °C and kg/s, us for psi, °F and lb/min. --units overrides it.").without("si");
    SITE = key("site", Form::Section, "Where the engine runs.").without("sea level, standard atmosphere");
    ENGINE = key("engine", Form::Section, "Size, breathing and speeds of the engine.").needed("");
    FUEL = key("fuel", Form::Section, "What burns, and how much of it.").without("flow without combustion; needed with a turbine or an exhaust");
    AIR_PATH = key("air_path", Form::Sections, "The parts the air flows through, in flow order, each under its own [[air_path]].").without("the engine breathes ambient air without losses");
    TURBINE = key("turbine", Form::Section, "The turbine; several each under [[turbine]], in exhaust order.").without("no turbine");
    EXHAUST = key("exhaust", Form::Section, "The pipe after the turbine.").without("no pressure drop");
    LIMITS = key("limits", Form::Section, "What must not be exceeded.").without("rules of thumb only");
}
