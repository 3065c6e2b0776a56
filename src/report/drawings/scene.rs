//! What all drawings of one line share.

use super::heading::{Heading, rpm};
use super::remark;
use crate::finding::Finding;
use crate::matching::{Installation, Layout, Match};
use crate::plot::{Area, Jump, Layer, Mark, Meaning, Naming, jumps};
use crate::quantity::UnitSystem;
use crate::report::fields::line::Row;
use crate::study::{Answer, COVERAGE, HandOverDirection, OperatingLine};

/// A line with all that its drawings need.
pub struct Scene<'a> {
    /// The line's name among others.
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

/// A run of a band: its lower and its upper line.
type Run = [Vec<[f64; 2]>; 2];

impl Scene<'_> {
    /// The matches of the line.
    pub(super) fn matches(&self) -> impl Iterator<Item = &Match> {
        self.line.matches()
    }

    /// Each speed of the line in rpm with its match, where it has one.
    pub(super) fn speeds(&self) -> impl Iterator<Item = (f64, Option<&Match>)> {
        let points = self.line.points.iter();
        points.map(|point| (point.rpm, point.outcome.as_ref().ok()))
    }

    /// Manifold pressure above the site's over engine speed, Pa.
    pub(super) fn boost(&self) -> Vec<(f64, Option<f64>)> {
        let site = self.installation.site.pressure;
        let rows = self.speeds();
        rows.map(|(rpm, found)| (rpm, found.map(|found| found.manifold_pressure - site)))
            .collect()
    }

    /// The band of an answer along the line in its unbroken runs, named at the longest; none where
    /// there is no band.
    pub(super) fn band(&self, answer: Answer) -> Option<Layer> {
        let ends = |row: &Row| {
            let point = row.as_ref().ok()?;
            let band = &point.bands.as_ref()?.of(answer)?.band;
            Some((point.found.rpm, band.low, band.high))
        };
        let jumps = self.jumps();
        let mut runs: Vec<Run> = vec![Run::default()];
        for row in self.rows {
            let Some((rpm, low, high)) = ends(row) else {
                runs.push(Run::default());
                continue;
            };
            let before = runs.last().and_then(|run| run[0].last());
            if before.is_some_and(|before| jumps::between(&jumps, before[0], rpm)) {
                runs.push(Run::default());
            }
            if let Some([lower, upper]) = runs.last_mut() {
                lower.push([rpm, low]);
                upper.push([rpm, high]);
            }
        }
        runs.retain(|run| run[0].len() > 1);
        runs.sort_by_key(|run| std::cmp::Reverse(run[0].len()));
        (!runs.is_empty()).then(|| {
            Layer::Area(Area {
                name: format!("grey: {:.0} % interval", 100.0 * COVERAGE),
                meaning: Meaning::Spread,
                naming: Naming::Beside,
                pieces: runs,
            })
        })
    }

    /// The hand-overs.
    pub(super) fn hand_overs(&self) -> impl Iterator<Item = Layer> {
        self.line.hand_over.iter().map(|hand_over| {
            let what = match hand_over.direction {
                HandOverDirection::ToTurbo => "hand-over",
                HandOverDirection::ToSupercharger => "back",
            };
            event(what, hand_over.rpm)
        })
    }

    /// Marks of the hand-overs and of the jumps, over areas, where no word finds room at a jump itself.
    pub(super) fn events_of_areas(&self) -> impl Iterator<Item = Layer> {
        let jumps = self.jumps().into_iter();
        self.hand_overs()
            .chain(jumps.map(|(a, b)| event("jump", f64::midpoint(a, b))))
    }

    /// What stands under every drawing.
    pub(super) fn standing(&self) -> &'static str {
        remark::standing(&self.installation.title)
    }

    /// The words around a drawing: the worst finding that concerns it as its title where a limit is
    /// passed or data end, else what the drawing shows; the finding's figures below.
    pub(super) fn heading(
        &self,
        concerns: impl Fn(&Finding) -> bool,
        shown: String,
        subtitle: &str,
    ) -> Heading {
        Heading {
            title: remark::title(self.findings, &concerns, self.layout).unwrap_or(shown),
            subtitle: subtitle.to_owned(),
            note: self.note_with(concerns),
        }
    }

    /// What stands under every drawing below the worst findings.
    pub(super) fn note_with(&self, concerns: impl Fn(&Finding) -> bool) -> String {
        let lines = [("", self.findings, self.layout)];
        remark::foot(&lines, concerns, self.system, self.standing())
    }

    /// Neighbouring speeds, rpm, between which the line does not pass from one match to the next but
    /// jumps to another branch. Every drawing over engine speed asks here.
    pub(super) fn jumps(&self) -> Vec<Jump> {
        self.line.jumps()
    }
}

/// A mark at an engine speed.
pub(super) fn event(what: &str, at: f64) -> Layer {
    Layer::Event(Mark {
        at,
        words: format!("{what} {}", rpm(at)),
    })
}
