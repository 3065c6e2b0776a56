//! How sure a match or a line is, for reading.

use super::point_text::{heading, or_dash};
use super::sure_view::{BandView, BandsView, SensitivityView};
use super::table::Sheet;
use super::view::{LineView, RowView};
use super::words::regime;
use crate::quantity::{Kind, UnitSystem, Words, decimals, label, reader_value, shown};
use crate::study::Answer;

/// Kind of an answer and of a change of it.
const fn kinds(answer: Answer) -> (Kind, Kind) {
    match answer {
        Answer::AirMassFlow => (Kind::MassFlow, Kind::MassFlow),
        Answer::ManifoldPressure | Answer::DrivePressure => {
            (Kind::AbsolutePressure, Kind::PressureDifference)
        }
        Answer::Boost => (Kind::BoostPressure, Kind::PressureDifference),
        Answer::BrakePower => (Kind::Power, Kind::Power),
        Answer::ExhaustTemperature => (Kind::Temperature, Kind::TemperatureDifference),
        Answer::SurgeMargin => (Kind::Share, Kind::Share),
    }
}

const fn name(answer: Answer) -> &'static str {
    match answer {
        Answer::AirMassFlow => "air",
        other => regime::answer(other),
    }
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

/// A unit behind a name, short: the kind of pressure is known from the table.
fn narrow(name: &str, kind: Kind, system: UnitSystem) -> String {
    let unit = match kind {
        Kind::Share => "% points",
        other => label(other, system),
    };
    format!("{name}\n[{}]", unit.trim_end_matches(" difference"))
}

/// What a step of each input does: the table and what the rows have to say.
pub fn sensitivity_text(rows: &[SensitivityView], system: UnitSystem) -> String {
    let kelvin = match system {
        UnitSystem::Si => "1 K",
        UnitSystem::Us => "1 K (1.8 °F)",
    };
    let mut out = format!(
        "\nWhat moves the answer: +1 % of an input, +{kelvin} of a temperature, or +1 u, its standard \
         uncertainty,\nwhere the build states one. The most important first: by 1 % of flow, pressure or \
         power, 10 K of\nexhaust temperature, 1 point of surge margin.\n\n"
    );
    if rows.is_empty() {
        out.push_str("No input moves it.\n");
        return out;
    }
    // Boost stands for the manifold pressure, unless the site's own pressure moves.
    let shown = Answer::ALL.into_iter().filter(|answer| {
        *answer != Answer::ManifoldPressure
            && rows.iter().any(|row| row.changes.of(*answer).is_some())
    });
    let answers: Vec<Answer> = shown.collect();
    let mut headings = vec!["input".to_owned(), "as built".to_owned(), "step".to_owned()];
    headings.extend(answers.iter().map(|answer| {
        let words = name(*answer).replacen(' ', "\n", 1);
        narrow(&words, kinds(*answer).1, system)
    }));
    let mut sheet = Sheet::new(&headings);
    for row in rows {
        let mut cells = vec![row.key.clone(), row.written.clone(), row.step.to_owned()];
        let changes = answers.iter();
        cells.extend(
            changes.map(|answer| change(row.changes.of(*answer), kinds(*answer).1, system)),
        );
        sheet.row(cells);
    }
    out.push_str(&sheet.text(3));
    for row in rows {
        for remark in &row.remarks {
            let remark = remark.in_units(system);
            out.push_str(&format!("  {}: {remark}\n", row.key));
        }
    }
    out
}

/// The bands of one match.
pub fn bands_text(bands: &BandsView, uncertain: usize, system: UnitSystem) -> String {
    let inputs = match uncertain {
        1 => "the uncertain input".to_owned(),
        more => format!("all {more} uncertain inputs together"),
    };
    let mut out = format!(
        "\nBands from {inputs}: {:.0} % of all cases lie between low and high.\n\n",
        100.0 * bands.coverage
    );
    let mut sheet = Sheet::new(&[
        "answer".to_owned(),
        "unit".to_owned(),
        "value".to_owned(),
        "standard\nuncertainty".to_owned(),
        "low".to_owned(),
        "high".to_owned(),
        "by".to_owned(),
        "mostly from".to_owned(),
    ]);
    for (answer, band) in held(bands) {
        let (kind, difference) = kinds(answer);
        let mostly = match (&band.mostly_from, band.mostly_share) {
            (Some(key), Some(share)) => format!("{key} {:.0} %", 100.0 * share),
            _ => String::new(),
        };
        let apart = change(Some(band.standard_uncertainty), difference, system);
        sheet.row(vec![
            name(answer).to_owned(),
            label(kind, system).to_owned(),
            shown(band.value, kind, system),
            apart.trim_start_matches('+').to_owned(),
            shown(band.low, kind, system),
            shown(band.high, kind, system),
            band.method.to_owned(),
            mostly,
        ]);
    }
    out.push_str(&sheet.text_between(2, 2));
    if !bands.without_effect.is_empty() {
        let keys = bands.without_effect.join(", ");
        out.push_str(&format!("No effect on any of them: {keys}.\n"));
    }
    out.push_str(&reasons(bands, system));
    out
}

fn held(bands: &BandsView) -> impl Iterator<Item = (Answer, &BandView)> {
    Answer::ALL
        .into_iter()
        .filter_map(|answer| Some((answer, bands.of(answer)?)))
}

/// Why answers are sampled, each reason once.
fn reasons(bands: &BandsView, system: UnitSystem) -> String {
    let mut out = String::new();
    let mut said: Vec<(&Words, Vec<&str>)> = Vec::new();
    for (answer, band) in held(bands) {
        let Some(why) = &band.why_not_linear else {
            continue;
        };
        match said.iter_mut().find(|(known, _)| *known == why) {
            Some((_, answers)) => answers.push(name(answer)),
            None => said.push((why, vec![name(answer)])),
        }
    }
    for (why, answers) in said {
        let why = why.in_units(system);
        out.push_str(&format!(
            "The linear band does not hold for {}: {why}.\n",
            answers.join(", ")
        ));
    }
    if let (Some(samples), Some(without)) = (bands.samples, bands.samples_without_match) {
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
pub fn line_bands_text(line: &LineView, system: UnitSystem) -> String {
    let rows: Vec<(f64, &BandsView)> = line
        .points
        .iter()
        .filter_map(|row| match row {
            RowView::Point(point) => Some((point.rpm, point.bands.as_ref()?)),
            RowView::Error { .. } => None,
        })
        .collect();
    let Some((_, first)) = rows.first() else {
        return String::new();
    };
    let has = |answer: &Answer| rows.iter().any(|(_, bands)| bands.of(*answer).is_some());
    let answers: Vec<Answer> = ALONG.into_iter().filter(has).collect();
    let mut headings = vec![heading("engine", Kind::RotationalSpeed, system)];
    for answer in &answers {
        let name = name(*answer).trim_end_matches(" pressure");
        for end in ["low", "high"] {
            headings.push(heading(&format!("{name}\n{end}"), kinds(*answer).0, system));
        }
    }
    headings.push("by".to_owned());
    let mut sheet = Sheet::new(&headings);
    let mut reasons = String::new();
    for (rpm, bands) in &rows {
        let mut cells = vec![shown(*rpm, Kind::RotationalSpeed, system)];
        let mut sampled = None;
        for answer in &answers {
            let band = bands.of(*answer);
            sampled = sampled.or(band.and_then(|band| band.why_not_linear.as_ref()));
            for end in [band.map(|band| band.low), band.map(|band| band.high)] {
                cells.push(or_dash(end, kinds(*answer).0, system));
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
        "\nBands from the uncertain inputs ({}): {:.0} % of all cases lie between low and high.\n\n{}",
        line.uncertain_inputs.join(", "),
        100.0 * first.coverage,
        sheet.text_between(0, 1)
    );
    let nowhere =
        |key: &&String| (rows.iter()).all(|(_, bands)| bands.without_effect.contains(key));
    let still: Vec<&str> = (first.without_effect.iter().filter(nowhere))
        .map(String::as_str)
        .collect();
    if !still.is_empty() {
        out.push_str(&format!("No effect at any speed: {}.\n", still.join(", ")));
    }
    if !reasons.is_empty() {
        out.push_str(&format!("Where the linear band does not hold:\n{reasons}"));
    }
    out
}
