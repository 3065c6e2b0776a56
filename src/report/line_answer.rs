//! What a builder asks of a line, answered first: one row a question, a screen at most.

use super::fields::cell::with_unit;
use super::fields::finding::PlacedFinding;
use super::fields::line::LineReport;
use super::fields::point::Point;
use super::words;
use super::wrap::hanging;
use crate::finding::{Code, Finding, Severity};
use crate::matching::{Drive, StationPlace};
use crate::quantity::{Kind, UnitSystem, shown};
use crate::study::{HandOverDirection, Margin, ValueAtSpeed};

/// Width of the questions.
const QUESTION: usize = 18;
/// Above 1 by this a supercharger compresses, as the line counts its hand-overs.
const WORKS: f64 = 1e-9;

/// The answers; empty where no speed has a match.
pub(super) fn answer_text(line: &LineReport, system: UnitSystem) -> String {
    let points: Vec<&Point> = line.matches().collect();
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return String::new();
    };
    let answers = Answers {
        line,
        points: &points,
        first,
        last,
        system,
    };
    let rows = [
        ("Power and torque", answers.power()),
        ("Boost", answers.boost()),
        ("Who carries it", answers.carriers()),
        ("Hand-over", answers.hand_over()),
        ("Air", Some(answers.air())),
        ("Hottest charge", answers.charge()),
        ("On the map", answers.map()),
        ("Drive pressure", answers.drive_pressure()),
        ("Past a limit", Some(answers.passed())),
        ("Next step", answers.next_step()),
    ];
    let shown = rows.into_iter().filter_map(|(question, answer)| {
        let first = format!("{question:<QUESTION$}");
        Some(hanging(&answer?, &first, &" ".repeat(QUESTION)))
    });
    shown.collect()
}

struct Answers<'a> {
    line: &'a LineReport,
    points: &'a [&'a Point],
    first: &'a Point,
    last: &'a Point,
    system: UnitSystem,
}

impl Answers<'_> {
    fn figure(&self, si: f64, kind: Kind) -> String {
        with_unit(si, kind, self.system)
    }

    fn at(&self, rpm: f64) -> String {
        format!("{} rpm", shown(rpm, Kind::RotationalSpeed, self.system))
    }

    /// "201.9 kW at 3200 rpm".
    fn peak(&self, peak: Option<ValueAtSpeed>, kind: Kind) -> Option<String> {
        let peak = peak?;
        Some(format!(
            "{} at {}",
            self.figure(peak.value, kind),
            self.at(peak.rpm)
        ))
    }

    /// The finding of a code along the line.
    fn finding(&self, code: Code) -> Option<&Finding> {
        let mut findings = self.line.findings.iter().map(|found| &found.finding);
        findings.find(|finding| finding.code == code)
    }

    fn power(&self) -> Option<String> {
        let figures = &self.line.summary.figures;
        let power = self.peak(figures.power, Kind::Power);
        let torque = self.peak(figures.torque, Kind::Torque);
        match (power, torque) {
            (Some(power), Some(torque)) => Some(format!("{power}, {torque}")),
            (one, other) => one.or(other),
        }
    }

    /// Boost at the lowest speed, at its peak and at the top.
    fn boost(&self) -> Option<String> {
        let peak = self.line.summary.figures.boost?;
        let of = |point: &Point| self.figure(point.boost(), Kind::BoostPressure);
        let mut said = format!("{} at {}", of(self.first), self.at(self.first.found.rpm));
        let is_end = |point: &Point| (point.boost() - peak.value).abs() <= 1e-6 * peak.value.abs();
        if !is_end(self.first) {
            said.push_str(&format!(
                ", {} from {}",
                self.figure(peak.value, Kind::BoostPressure),
                self.at(peak.rpm)
            ));
            if !is_end(self.last) {
                said = said.replace(" from ", " at ");
            }
        }
        if !is_end(self.last) {
            said.push_str(&format!(
                ", {} at {}",
                of(self.last),
                self.at(self.last.found.rpm)
            ));
        }
        Some(said)
    }

    /// The shares of the stages at both ends of the line.
    fn carriers(&self) -> Option<String> {
        let shares = |point: &Point| -> Option<String> {
            let stages = point.stages();
            let parts: Vec<String> = stages
                .iter()
                .filter_map(|stage| {
                    let share = stage.state.split_share?;
                    Some(format!("{} {:.0} %", stage.name, 100.0 * share))
                })
                .collect();
            (parts.len() > 1).then(|| parts.join(", "))
        };
        let (low, high) = (shares(self.first)?, shares(self.last)?);
        Some(format!(
            "at {} {low}; at {} {high}",
            self.at(self.first.found.rpm),
            self.at(self.last.found.rpm)
        ))
    }

    fn hand_over(&self) -> Option<String> {
        if self.line.hand_over.is_empty() {
            let why = words::no_hand_over(&self.works())?;
            return Some(why.trim_end().to_owned());
        }
        let speeds = self.line.hand_over.iter().map(|one| {
            let to = match one.direction {
                HandOverDirection::ToTurbo => "to the turbo",
                HandOverDirection::ToSupercharger => "back to the supercharger",
            };
            format!("{} {to}", self.at(one.rpm))
        });
        Some(speeds.collect::<Vec<_>>().join(", "))
    }

    /// The speeds with a match, rpm, and whether a belt-driven stage compresses there; empty where no
    /// turbine could take over.
    fn works(&self) -> Vec<(f64, bool)> {
        let at = |point: &&Point| {
            let mut stages = point.found.stages.iter();
            let belt = stages.clone().find(|stage| stage.drive == Drive::Belt);
            stages.find(|stage| stage.drive == Drive::Turbine)?;
            Some((point.found.rpm, belt?.pressure_ratio > 1.0 + WORKS))
        };
        self.points.iter().filter_map(at).collect()
    }

    fn air(&self) -> String {
        let of = |point: &Point| {
            let flow = self.figure(point.found.air_mass_flow, Kind::MassFlow);
            format!("{flow} at {}", self.at(point.found.rpm))
        };
        let (low, high) = (of(self.first), of(self.last));
        if low == high {
            low
        } else {
            format!("{low}, {high}")
        }
    }

    /// The hottest charge, and whether it is within what the build allows.
    fn charge(&self) -> Option<String> {
        let hottest = self.peak(
            self.line.summary.figures.charge_temperature,
            Kind::Temperature,
        )?;
        let verdict = match self.finding(Code::ChargeTemperature) {
            Some(finding) => {
                let limit = self.figure(finding.limit?, Kind::Temperature);
                match finding.severity {
                    Severity::Over => format!(": cooler not enough for the limit of {limit}"),
                    _ => format!(": within the limit of {limit}"),
                }
            }
            None => " (no limit set)".to_owned(),
        };
        Some(format!("{hottest}{verdict}"))
    }

    /// Margins on the maps, and the shaft's speed against its limit.
    fn map(&self) -> Option<String> {
        let summary = &self.line.summary;
        let figures = &summary.figures;
        let margin = |name: &str, margin: Option<Margin>| {
            let margin = margin?;
            let stage = match figures.maps {
                0 | 1 => String::new(),
                _ => format!(" ({})", summary.stages.get(margin.stage)?),
            };
            let value = self.figure(margin.at.value, Kind::Share);
            Some(format!(
                "{name} margin {value} at {}{stage}",
                self.at(margin.at.rpm)
            ))
        };
        let speed = self.finding(Code::TurboSpeed).and_then(|finding| {
            let left = self.figure(finding.margin?, Kind::Share);
            Some(format!("speed margin {left} at {}", self.at(finding.rpm?)))
        });
        let parts = [
            margin("surge", figures.surge_margin),
            margin("choke", figures.choke_margin),
            speed,
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// The highest drive pressure, beside the manifold's.
    fn drive_pressure(&self) -> Option<String> {
        let of = |point: &Point| Some(point.at(StationPlace::TurbineInlet(0))?.pressure);
        let highest = self
            .points
            .iter()
            .filter_map(|point| Some((of(point)?, *point)))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let (pressure, point) = highest?;
        Some(format!(
            "{} at {}, {:.2} of manifold pressure",
            self.figure(pressure, Kind::AbsolutePressure),
            self.at(point.found.rpm),
            pressure / point.found.manifold_pressure
        ))
    }

    /// What is over its limit or outside its data.
    fn passed(&self) -> String {
        let mut names: Vec<String> = Vec::new();
        for PlacedFinding { finding, .. } in &self.line.findings {
            let name = words::what(finding);
            let is_bad = matches!(finding.severity, Severity::Over | Severity::OutsideData);
            if is_bad && !names.contains(&name) {
                names.push(name);
            }
        }
        if names.is_empty() {
            return "nothing".to_owned();
        }
        names.join(", ")
    }

    /// The advice of the worst finding.
    fn next_step(&self) -> Option<String> {
        let worst = &self.line.findings.first()?.finding;
        (worst.severity != Severity::Ok).then(|| words::advice(worst, self.system))
    }
}
