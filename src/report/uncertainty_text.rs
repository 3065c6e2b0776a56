//! How sure a match or a line is, for reading.

use super::fields::cell::{head, or_dash};
use super::fields::field::Field;
use super::fields::line::LineReport;
use super::fields::point::Point;
use super::fields::rows::columns;
use super::fields::uncertainty::{BandOfAnswer, BandsOfMatch, Changes, Sensitivity, kind};
use super::table::{Sheet, within_screen};
use super::wrap::sentences_wrapped;
use crate::quantity::{Kind, UnitSystem, Words, decimals, label, reader_value, shown};
use crate::study::{Answer, COVERAGE};

// The row of a change of each answer, in their order.
columns! {
    CHANGES of Changes: air_mass_flow_kg_s, manifold_pressure_pa, boost_pa, brake_power_w,
        exhaust_temperature_k, drive_pressure_pa, surge_margin;
}

const fn row(answer: Answer) -> &'static Field<Changes> {
    CHANGES[answer as usize]
}

/// A change with its sign and a digit more than the value itself; never "-0".
fn change(si: Option<f64>, kind: Kind, system: UnitSystem) -> String {
    let Some(si) = si else {
        return "–".to_owned();
    };
    let places = match kind {
        Kind::PressureDifference => decimals(kind, system),
        other => decimals(other, system) + 1,
    };
    let text = format!("{:+.*}", places, reader_value(si, kind, system));
    let is_nothing = text.bytes().all(|b| matches!(b, b'+' | b'-' | b'0' | b'.'));
    if is_nothing {
        text.replace(['+', '-'], "")
    } else {
        text
    }
}

/// A short name over a short unit: the kind of pressure is known from the table.
fn narrow(row: &Field<Changes>, system: UnitSystem) -> String {
    match row.kind() {
        Kind::Share => format!("{}\n[% points]", row.short),
        _ => row.head(system).replace(" difference]", "]"),
    }
}

/// What a step of each input does: the table and what the rows have to say.
pub fn sensitivity_text(rows: &[Sensitivity], system: UnitSystem) -> String {
    columns! { INPUT of Sensitivity: key, written, step; }
    let kelvin = match system {
        UnitSystem::Si => "1 K",
        UnitSystem::Us => "1 K (1.8 °F)",
    };
    let mut out = format!(
        "\nSensitivity: change in each result for +1 % of an input, +{kelvin} of a temperature, or \
         +1 u, its standard uncertainty, where the build states one. Ranked by effect; 1 % of flow, \
         pressure or power counts as much as 10 K of exhaust temperature or 1 point of surge \
         margin.\n\n"
    );
    if rows.is_empty() {
        out.push_str("No input changes it.\n");
        return out;
    }
    // Boost stands for the manifold pressure, unless the site's own pressure moves.
    let is_shown = |answer: &Answer| {
        *answer != Answer::ManifoldPressure
            && rows.iter().any(|moved| moved.changes.of(*answer).is_some())
    };
    let answers = Answer::ALL.into_iter().filter(is_shown);
    let columns: Vec<&Field<Changes>> = answers.map(row).collect();
    let mut heads: Vec<String> = INPUT.iter().map(|row| row.head(system)).collect();
    heads.extend(columns.iter().map(|row| narrow(row, system)));
    let cells = |moved: &Sensitivity| -> Vec<String> {
        let mut cells: Vec<String> = INPUT.iter().map(|row| row.cell(moved, system)).collect();
        let changes = columns.iter();
        cells.extend(changes.map(|row| change(row.number(&moved.changes), row.kind(), system)));
        cells
    };
    let table: Vec<Vec<String>> = rows.iter().map(cells).collect();
    out.push_str(&within_screen(&heads, &table, 1));
    for moved in rows {
        for remark in &moved.remarks {
            let remark = remark.in_units(system);
            out.push_str(&format!("  {}: {remark}\n", moved.key));
        }
    }
    sentences_wrapped(&out)
}

/// "95 % interval".
fn interval() -> String {
    format!("{:.0} % interval", 100.0 * COVERAGE)
}

/// The bands of one match.
pub fn bands_text(bands: &BandsOfMatch, uncertain: usize, system: UnitSystem) -> String {
    let inputs = match uncertain {
        1 => "the uncertain input".to_owned(),
        more => format!("all {more} uncertain inputs together"),
    };
    let mut out = format!("\nBands from {inputs}; {}: low to high.\n\n", interval());
    let heads = [
        "answer",
        "unit",
        "value",
        "standard\nuncertainty",
        "low",
        "high",
        "method",
        "mainly due to",
    ];
    let rows: Vec<Vec<String>> = held(bands)
        .map(|(answer, band)| band_cells(answer, band, system))
        .collect();
    out.push_str(&within_screen(&heads.map(str::to_owned), &rows, 1));
    if !bands.without_effect.is_empty() {
        let keys = bands.without_effect.join(", ");
        out.push_str(&format!("No effect on any of them: {keys}.\n"));
    }
    out.push_str(&reasons(bands, system));
    sentences_wrapped(&out)
}

fn band_cells(answer: Answer, told: &BandOfAnswer, system: UnitSystem) -> Vec<String> {
    columns! { METHOD of BandOfAnswer: method; }
    let (kind, band) = (kind(answer), &told.band);
    let mostly = match (&told.mostly_from, band.mostly) {
        (Some(key), Some((_, share))) => format!("{key} {:.0} %", 100.0 * share),
        _ => String::new(),
    };
    let apart = change(Some(band.standard_uncertainty), row(answer).kind(), system);
    vec![
        row(answer).label.to_owned(),
        label(kind, system).to_owned(),
        shown(told.value, kind, system),
        apart.trim_start_matches('+').to_owned(),
        shown(band.low, kind, system),
        shown(band.high, kind, system),
        METHOD[0].cell(told, system),
        mostly,
    ]
}

fn held(bands: &BandsOfMatch) -> impl Iterator<Item = (Answer, &BandOfAnswer)> {
    Answer::ALL
        .into_iter()
        .filter_map(|answer| Some((answer, bands.of(answer)?)))
}

/// Why answers are sampled, each reason once.
fn reasons(bands: &BandsOfMatch, system: UnitSystem) -> String {
    let mut out = String::new();
    let mut said: Vec<(&Words, Vec<&str>)> = Vec::new();
    for (answer, band) in held(bands) {
        let Some(why) = &band.why_not_linear else {
            continue;
        };
        let name = row(answer).label;
        match said.iter_mut().find(|(known, _)| *known == why) {
            Some((_, answers)) => answers.push(name),
            None => said.push((why, vec![name])),
        }
    }
    for (why, answers) in said {
        let why = why.in_units(system);
        out.push_str(&format!(
            "The linear band does not hold for {}: {why}.\n",
            answers.join(", ")
        ));
    }
    if let Some((samples, without)) = bands.sampled {
        out.push_str(&format!(
            "Sampled: {samples} draws of all uncertain inputs, each solved"
        ));
        match without {
            0 => out.push_str(".\n"),
            1 => out.push_str("; one of them has no match and is not in the bands.\n"),
            more => out.push_str(&format!(
                "; {more} of them have no match and are not in the bands.\n"
            )),
        }
    }
    out
}

/// What the bands along a line are shown of.
const ALONG: [Answer; 3] = [
    Answer::ManifoldPressure,
    Answer::BrakePower,
    Answer::SurgeMargin,
];

/// The bands along a line; nothing where no point has any.
pub fn line_bands_text(line: &LineReport, system: UnitSystem) -> String {
    let banded = |point: &Point| Some((point.found.rpm, point.bands.clone()?));
    let rows: Vec<(f64, BandsOfMatch)> = line.matches().filter_map(banded).collect();
    if rows.is_empty() {
        return String::new();
    }
    let has = |answer: &Answer| rows.iter().any(|(_, bands)| bands.of(*answer).is_some());
    let answers: Vec<Answer> = ALONG.into_iter().filter(has).collect();
    let mut heads = vec![head("engine", Kind::RotationalSpeed, system)];
    for answer in &answers {
        let name = row(*answer).label.trim_end_matches(" pressure");
        for end in ["low", "high"] {
            heads.push(head(&format!("{name}\n{end}"), kind(*answer), system));
        }
    }
    heads.push("method".to_owned());
    let mut sheet = Sheet::new(&heads);
    let mut reasons = String::new();
    for (rpm, bands) in &rows {
        let mut cells = vec![shown(*rpm, Kind::RotationalSpeed, system)];
        let mut sampled = None;
        for answer in &answers {
            let band = bands.of(*answer);
            sampled = sampled.or(band.and_then(|band| band.why_not_linear.as_ref()));
            for end in [band.map(|one| one.band.low), band.map(|one| one.band.high)] {
                cells.push(or_dash(end, kind(*answer), system));
            }
        }
        cells.push(sampled.map_or("linear", |_| "sampled").to_owned());
        if let Some(why) = sampled {
            let why = why.in_units(system);
            reasons.push_str(&format!("  {rpm:.0} rpm: {why}\n"));
        }
        sheet.row(cells);
    }
    let mut out = format!(
        "\nBands from the uncertain inputs ({}); {}: low to high.\n\n{}",
        line.uncertain_inputs.join(", "),
        interval(),
        sheet.text_between(0, 1)
    );
    out.push_str(&without_effect(&rows));
    if !reasons.is_empty() {
        out.push_str(&format!("Where the linear band does not hold:\n{reasons}"));
    }
    sentences_wrapped(&out)
}

/// The inputs without effect at every speed.
fn without_effect(rows: &[(f64, BandsOfMatch)]) -> String {
    let nowhere =
        |key: &&String| (rows.iter()).all(|(_, bands)| bands.without_effect.contains(key));
    let first = rows
        .iter()
        .take(1)
        .flat_map(|(_, bands)| &bands.without_effect);
    let still: Vec<&str> = first.filter(nowhere).map(String::as_str).collect();
    if still.is_empty() {
        return String::new();
    }
    format!("No effect at any speed: {}.\n", still.join(", "))
}
