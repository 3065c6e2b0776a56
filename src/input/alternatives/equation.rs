//! Keys of which each follows from the others: an engine's size, a belt's drive, a site's pressure.
//!
//! Where an option changes one of them, the oldest of the others gives way, so that what was set
//! last counts and nothing is resized in silence. What the file's values imply without saying it, the
//! crank's pulley, is held.

use super::super::document::{Node, Value};
use super::super::fault::{Note, Place};
use super::super::keys::row::Key;
use super::super::keys::spec::Measured;
use super::super::keys::supercharger::{
    CRANK_PULLEY_DIAMETER, DRIVE_RATIO, GEAR_RATIO, PULLEY_DIAMETER,
};
use super::super::overrides::Replaced;
use super::age::Age;
use super::sections::Section;

/// Lets the oldest key of a section's equation give way to what an option says.
pub(super) fn settle(section: &mut Section<'_>, replaced: &Replaced, notes: &mut Vec<Note>) {
    match section.word.as_str() {
        "site" => air_outside(section, notes),
        "engine" => size(section, replaced, notes),
        "supercharger" => drive(section, replaced, notes),
        _ => {}
    }
}

/// The key that was set last, with its age; none where all are the file's.
fn newest(section: &Section<'_>, keys: &[&'static str]) -> Option<(Age, &'static str)> {
    let ages = keys.iter().map(|key| (section.age(key), *key));
    let last = ages.max_by_key(|(age, _)| *age);
    last.filter(|(age, _)| *age > Age::File)
}

fn have_all(section: &Section<'_>, keys: &[&str]) -> bool {
    keys.iter().all(|key| section.has(key))
}

fn give_way(section: &mut Section<'_>, key: &str, why: &str, notes: &mut Vec<Note>) {
    notes.push(section.note(key, format!("not used: {why}")));
    section.remove(key);
}

/// Another altitude has another pressure. A new pressure stands beside the altitude: it is held to it,
/// because a weather report's figure is the likelier slip.
fn air_outside(section: &mut Section<'_>, notes: &mut Vec<Note>) {
    if !have_all(section, &["altitude", "pressure"]) {
        return;
    }
    if is_later(section, "altitude", "pressure") {
        let by = section.who("altitude");
        let why = format!("replaced by the standard atmosphere's at {by}");
        give_way(section, "pressure", &why, notes);
    }
}

/// Whether a key comes from a later source than another: an option after the file, a line beside
/// after both. Two options of one line are given together.
fn is_later(section: &Section<'_>, key: &str, other: &str) -> bool {
    let source = |key| match section.place(key) {
        Some(Place::Beside(..)) => 2,
        Some(Place::Set(..)) => 1,
        _ => 0,
    };
    source(key) > source(other)
}

/// Displacement, bore, stroke and cylinders.
fn size(section: &mut Section<'_>, replaced: &Replaced, notes: &mut Vec<Note>) {
    const ALL: [&str; 4] = ["displacement", "bore", "stroke", "cylinders"];
    const GIVING_WAY: [&str; 3] = ["displacement", "bore", "stroke"];
    let Some((_, last)) = newest(section, &ALL) else {
        return;
    };
    let by = section.who(last);
    if have_all(section, &ALL) {
        let others = GIVING_WAY.into_iter().filter(|key| *key != last);
        if let Some(oldest) = others.min_by_key(|key| section.age(key)) {
            let why = format!("{by} overrides it; it is recalculated from the other sizes");
            give_way(section, oldest, &why, notes);
        }
    } else if have_all(section, &["displacement", "stroke", "cylinders"])
        && last != "displacement"
        && section.old(last, replaced).is_some()
    {
        let text = "the displacement is kept and the bore recalculated; set engine.bore too to change the \
                    displacement instead";
        notes.push(section.note(last, text.to_owned()));
    }
}

const RATIO: &str = "drive_ratio";
const PULLEY: &str = "pulley_diameter";
const CRANK: &str = "crank_pulley_diameter";
const GEAR: &str = "gear_ratio";

/// drive_ratio = crank_pulley_diameter/pulley_diameter × gear_ratio.
fn drive(section: &mut Section<'_>, replaced: &Replaced, notes: &mut Vec<Note>) {
    if !have_all(section, &[RATIO, PULLEY]) {
        return;
    }
    let Some((age, last)) = newest(section, &[RATIO, PULLEY, CRANK, GEAR]) else {
        return;
    };
    let by = section.who(last);
    if !section.has(CRANK) {
        hold_crank_pulley(section, replaced, notes);
    } else if last != RATIO && section.age(RATIO) < age {
        let why = format!("{by} overrides it; the ratio is recalculated from the pulleys");
        give_way(section, RATIO, &why, notes);
    } else if section.age(CRANK) <= section.age(PULLEY) {
        let why = format!(
            "{by} overrides it; the crank pulley is recalculated; to change the supercharger pulley \
             instead, set its diameter"
        );
        give_way(section, CRANK, &why, notes);
    } else if let Some(pulley) = solved_pulley(section) {
        let why = format!("{by} overrides it; the pulley is recalculated: {pulley}");
        insert(section, PULLEY, pulley, PULLEY);
        notes.push(section.note(PULLEY, format!("not used as written: {why}")));
    }
}

fn read(node: Option<&Node>, key: &Key) -> Option<Measured> {
    key.spec()?.read(node?, None).ok()
}

/// The gear ratio of a node; 1 where there is none.
fn gear(node: Option<&Node>) -> Option<f64> {
    match node {
        None => Some(1.0),
        some => read(some, &GEAR_RATIO).map(|gear| gear.value),
    }
}

/// Another pulley on the supercharger, or another gear, leaves the crank's as it was.
fn hold_crank_pulley(section: &mut Section<'_>, replaced: &Replaced, notes: &mut Vec<Note>) {
    let ratio_age = section.age(RATIO);
    let Some((_, last)) = newest(section, &[PULLEY, GEAR]).filter(|(age, _)| *age > ratio_age)
    else {
        return;
    };
    let (old_pulley, old_gear) = (section.old(PULLEY, replaced), section.old(GEAR, replaced));
    let held = || {
        let ratio = read(section.node(RATIO), &DRIVE_RATIO)?;
        let pulley = read(old_pulley.as_ref(), &PULLEY_DIAMETER)?;
        let crank = ratio.value * pulley.value / gear(old_gear.as_ref())?;
        let share = |it: Measured| it.uncertainty.map_or(0.0, |u| u / it.value);
        let new_pulley = read(section.node(PULLEY), &PULLEY_DIAMETER)?;
        let follows = crank / new_pulley.value * gear(section.node(GEAR))?;
        Some((
            crank,
            share(ratio).hypot(share(pulley)),
            follows,
            ratio.value,
        ))
    };
    // Without a pulley before there is none that a new one would resize.
    let Some((crank, share, follows, before)) = held() else {
        return;
    };
    if (follows / before - 1.0).abs() < SAME {
        return;
    }
    let by = section.who(last);
    let why = format!(
        "{by} overrides it: the crank pulley stays {:.1} mm, so the ratio becomes {follows:.3}; to keep the \
         ratio, add --set {}.{RATIO}={before}",
        1e3 * crank,
        section.path
    );
    let spread = match share {
        share if share > 0.0 => format!(" +- {:.4} mm", 1e3 * crank * share),
        _ => String::new(),
    };
    insert(
        section,
        CRANK,
        format!("{:.4} mm{spread}", 1e3 * crank),
        RATIO,
    );
    give_way(section, RATIO, &why, notes);
}

/// Ratios that differ by less are one, written with other digits.
const SAME: f64 = 1e-6;

/// The supercharger's pulley of a new ratio with a new crank pulley.
fn solved_pulley(section: &Section<'_>) -> Option<String> {
    let ratio = read(section.node(RATIO), &DRIVE_RATIO)?.value;
    let crank = read(section.node(CRANK), &CRANK_PULLEY_DIAMETER)?.value;
    let pulley = crank / ratio * gear(section.node(GEAR))?;
    Some(format!("{:.4} mm", 1e3 * pulley))
}

/// Writes a value that follows, at the place of the key that it follows from.
fn insert(section: &mut Section<'_>, key: &str, text: String, from: &str) {
    if let Some(place) = section.place(from).cloned() {
        let value = Value::Text(text);
        section.insert(key, Node { place, value });
    }
}
