//! The drawings of a line: what each shows and the words on it, from matches to `plot`'s structs.

mod beside;
mod boost;
mod cooler;
mod journey;
mod map;
mod map_title;
mod power;
mod rank;
mod remark;
mod split;

pub use cooler::of_cooler;
pub use rank::of_rank;

use crate::finding::Finding;
use crate::matching::{Installation, Layout, Match};
use crate::plot::{Axis, Band, Drawing, Jump, PlotError, jumps};
use crate::quantity::{Kind, UnitSystem, label, reader_value, shown};
use crate::report::fields::line::Row;
use crate::study::{Answer, COVERAGE, OperatingLine};

/// As many bands as a drawing of lines takes.
const MOST_BANDS: usize = 3;

/// What all drawings of one line share.
pub struct Scene<'a> {
    /// The line's name beside others.
    pub name: &'a str,
    /// The installation it belongs to.
    pub installation: &'a Installation,
    /// Names of its stages.
    pub layout: &'a Layout,
    /// Its matches.
    pub line: &'a OperatingLine,
    /// The same line as written, with its bands; empty where none are drawn.
    pub rows: &'a [Row],
    /// What was found along it, worst first.
    pub findings: &'a [Finding],
    /// The reader's units.
    pub system: UnitSystem,
}

/// The drawings of a line.
pub struct Drawn {
    /// File names and SVG texts.
    pub files: Vec<(String, String)>,
    /// Names of the lines beside it that run on another map and are not drawn on this one.
    pub elsewhere: Vec<String>,
}

/// The drawings that a line has, with others beside it where that helps.
pub fn of_line(scene: &Scene, beside: &[Scene]) -> Result<Drawn, PlotError> {
    let (mut drawings, elsewhere) = map::draw(scene, beside)?;
    for (name, drawing) in [
        ("stations.svg", journey::draw(scene)?),
        ("split.svg", split::draw(scene)?),
        ("boost.svg", boost::draw(scene)?),
        ("power.svg", power::draw(scene)?),
        ("beside.svg", beside::draw(scene, beside)?),
    ] {
        if let Some(drawing) = drawing {
            drawings.push((name.to_owned(), drawing));
        }
    }
    let files = drawings
        .into_iter()
        .map(|(name, drawing)| (name, drawing.svg));
    Ok(Drawn {
        files: files.collect(),
        elsewhere,
    })
}

/// A drawing with its file name.
pub(super) type Named = (String, Drawing);

impl Scene<'_> {
    /// The matches of the line.
    fn matches(&self) -> impl Iterator<Item = &Match> {
        self.line.matches()
    }

    /// Each speed of the line in rpm with its match, where it has one.
    fn speeds(&self) -> impl Iterator<Item = (f64, Option<&Match>)> {
        let points = self.line.points.iter();
        points.map(|point| (point.rpm, point.outcome.as_ref().ok()))
    }

    /// The bands of an answer along the line, one for each unbroken run of points, the longest
    /// first: at most as many as a drawing of lines takes.
    fn bands(&self, answer: Answer) -> Vec<Band> {
        let ends = |row: &Row| {
            let point = row.as_ref().ok()?;
            let band = &point.bands.as_ref()?.of(answer)?.band;
            Some((point.found.rpm, band.low, band.high))
        };
        let mut runs = vec![Band::default()];
        let jumps = self.jumps();
        for row in self.rows {
            let before = runs.last().and_then(|run| run.lower.last());
            if let (Some(&[before, _]), Some((rpm, ..))) = (before, ends(row))
                && jumps::between(&jumps, before, rpm)
            {
                runs.push(Band::default());
            }
            match (ends(row), runs.last_mut()) {
                (Some((rpm, low, high)), Some(run)) => {
                    run.lower.push([rpm, low]);
                    run.upper.push([rpm, high]);
                }
                _ => runs.push(Band::default()),
            }
        }
        runs.retain(|run| run.lower.len() > 1);
        runs.sort_by_key(|run| std::cmp::Reverse(run.lower.len()));
        runs.truncate(MOST_BANDS);
        if let Some(longest) = runs.first_mut() {
            longest.words = format!("grey: {:.0} % of cases", 100.0 * COVERAGE);
        }
        runs
    }

    /// What stands under every drawing of an invented build.
    fn note(&self) -> &'static str {
        if self.installation.title.to_lowercase().contains("invented") {
            "Estimate for an invented build."
        } else {
            "Estimate; see the cautions with the table."
        }
    }

    /// The same below the worst finding of those that concern a drawing, and the worst of the others
    /// where that is graver.
    fn note_with(&self, concerns: impl Fn(&Finding) -> bool) -> String {
        remark::foot(
            self.findings,
            concerns,
            (self.layout, self.system),
            self.note(),
        )
    }

    /// A drawing's title: the worst finding that concerns it where a limit is passed or data end, else
    /// what the drawing shows.
    fn title(&self, concerns: impl Fn(&Finding) -> bool, shown: String) -> String {
        remark::title(self.findings, concerns, self.layout).unwrap_or(shown)
    }

    /// Neighbouring speeds, rpm, between which the line does not pass from one match to the next but
    /// jumps to another branch. Every drawing over engine speed asks here.
    fn jumps(&self) -> Vec<Jump> {
        self.line.jumps()
    }

    /// A function from SI to the reader's unit.
    fn to_reader(&self, kind: Kind) -> impl Fn(f64) -> f64 + use<> {
        let system = self.system;
        move |si| reader_value(si, kind, system)
    }

    /// Name and unit of an axis.
    fn words(&self, name: &str, kind: Kind) -> String {
        match label(kind, self.system) {
            "" => name.to_owned(),
            unit => format!("{name}, {unit}"),
        }
    }
}

/// "limit 60.0 °C", "limit 275.0 kPa": the axis says whether a pressure is absolute or gauge.
fn limit_words(at: f64, kind: Kind, system: UnitSystem) -> String {
    let unit = label(kind, system);
    let unit = unit
        .trim_end_matches(" absolute")
        .trim_end_matches(" gauge");
    format!("limit {} {unit}", shown(at, kind, system))
}

/// The engine speed's axis: rpm as it is.
pub(super) const SPEED: Axis<'static> = Axis {
    words: "engine speed, rpm",
    shown: &as_it_is,
};

fn as_it_is(value: f64) -> f64 {
    value
}

/// The same begun with a capital.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// "3,200 rpm".
pub(super) fn rpm(value: f64) -> String {
    format!("{} rpm", thousands(value))
}

/// A whole number with a comma before each three digits.
pub(super) fn thousands(value: f64) -> String {
    let digits = format!("{:.0}", value.abs());
    let mut out = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    if value < -0.5 { format!("-{out}") } else { out }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(thousands(950.0), "950");
        assert_eq!(thousands(3200.0), "3,200");
        assert_eq!(thousands(128_600.4), "128,600");
        assert_eq!(thousands(-1500.0), "-1,500");
    }
}
