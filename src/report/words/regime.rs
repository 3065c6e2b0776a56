//! Why an answer does not move in proportion, in words.

use super::error::match_error;
use crate::matching::{BypassState, GateState, Layout};
use crate::quantity::{Words, words};
use crate::study::{
    Answer, Change, InputStep, MapSide, MovedInputs, NotLinear, RowRemark, SensitivityRow,
};

/// Name of an answer within a sentence.
pub const fn answer(answer: Answer) -> &'static str {
    match answer {
        Answer::AirMassFlow => "air flow",
        Answer::ManifoldPressure => "manifold pressure",
        Answer::Boost => "boost",
        Answer::BrakePower => "brake power",
        Answer::ExhaustTemperature => "exhaust temperature",
        Answer::DrivePressure => "drive pressure",
        Answer::SurgeMargin => "surge margin",
    }
}

/// One change of regime.
fn change(change: Change, layout: &Layout) -> String {
    let stage = |index: usize| {
        let name = layout.stages.get(index).map(|(name, _)| name.as_str());
        name.unwrap_or("stage").to_owned()
    };
    let turbine = |index: usize| match layout.turbines.get(index) {
        Some(name) if layout.turbines.len() > 1 => format!(" of {name}"),
        _ => String::new(),
    };
    match change {
        Change::Gate(index, state) => {
            let does = match state {
                GateState::None => "is not there",
                GateState::Shut => "shuts",
                GateState::Holding => "holds the boost",
                GateState::WideOpen => "is wide open and cannot hold the boost",
            };
            format!("the wastegate{} {does}", turbine(index))
        }
        Change::Bypass(index, state) => {
            let does = match state {
                BypassState::None => "is not there",
                BypassState::Shut => "shuts",
                BypassState::Open => "opens",
                BypassState::Holding => "holds its pressure",
                BypassState::Disengaged => "carries all the air",
            };
            format!("the bypass of the {} {does}", stage(index))
        }
        Change::Works(index, true) => format!("the {} compresses", stage(index)),
        Change::Works(index, false) => {
            format!(
                "the {} acts as a restriction, its pressure ratio is below 1",
                stage(index)
            )
        }
        Change::SmokeLimit(true) => "the smoke limiter cuts the fuel".to_owned(),
        Change::SmokeLimit(false) => "the smoke limiter cuts no fuel".to_owned(),
        Change::Saturated(true) => "the charge is saturated with fuel vapour".to_owned(),
        Change::Saturated(false) => "all the fuel meant to evaporate does".to_owned(),
        Change::Map(index, side, outside) => {
            let side = match side {
                MapSide::Surge => "left of the surge line",
                MapSide::Choke => "right of choke",
                MapSide::OverSpeed => "above the highest speed of its map",
            };
            let is = if outside { "is" } else { "is no longer" };
            format!("the {} {is} {side}", stage(index))
        }
    }
}

fn changes(all: &[Change], layout: &Layout) -> String {
    let words: Vec<String> = all.iter().map(|one| change(*one, layout)).collect();
    words.join(", ")
}

/// A step with its sign.
pub const fn step(step: InputStep, up: bool) -> &'static str {
    match (step, up) {
        (InputStep::Uncertainty, true) => "+1 u",
        (InputStep::Uncertainty, false) => "-1 u",
        (InputStep::PerCent, true) => "+1 %",
        (InputStep::PerCent, false) => "-1 %",
        (InputStep::Kelvin, true) => "+1 K",
        (InputStep::Kelvin, false) => "-1 K",
    }
}

/// What a row of the sensitivities says besides its numbers.
pub fn remark(row: &SensitivityRow, remark: &RowRemark, layout: &Layout) -> Words {
    let at = |up: &bool| step(row.step, *up);
    match remark {
        RowRemark::NotPermitted { up } => format!("{} is outside the allowed range", at(up)).into(),
        RowRemark::NoMatch { up, fault } => words![
            format!("at {} there is no match: ", at(up)),
            match_error(fault),
        ],
        RowRemark::Regime { up, changes: all } => {
            format!("at {} {}", at(up), changes(all, layout)).into()
        }
        RowRemark::Bends(of) => format!(
            "{} responds non-linearly: {} and {} differ by more than 10 %",
            answer(*of),
            step(row.step, true),
            step(row.step, false)
        )
        .into(),
    }
}

fn place(place: MovedInputs, keys: &[String]) -> String {
    match place {
        MovedInputs::One(input, count) => {
            let key = keys.get(input).map_or("an input", String::as_str);
            format!("{key} at {count:+.0} u")
        }
        MovedInputs::Together(of, count) => {
            let way = if count > 0.0 { "more" } else { "less" };
            format!(
                "all inputs together, {:.0} u towards {way} {}",
                count.abs(),
                answer(of)
            )
        }
    }
}

/// Why first order does not hold.
pub fn not_linear(why: &NotLinear, keys: &[String], layout: &Layout) -> Words {
    match why {
        NotLinear::NotPermitted(at) => {
            format!("{}: the values contradict each other", place(*at, keys)).into()
        }
        NotLinear::NoMatch(at, fault) => {
            words![
                format!("{}: there is no match: ", place(*at, keys)),
                match_error(fault),
            ]
        }
        NotLinear::Regime(at, all) => {
            format!("{}: {}", place(*at, keys), changes(all, layout)).into()
        }
        NotLinear::Bends(at, share) => format!(
            "{}: re-solving differs from the straight line by {:.0} % of the band",
            place(*at, keys),
            100.0 * share
        )
        .into(),
        NotLinear::Absent(at) => format!("{}: it is not defined there", place(*at, keys)).into(),
    }
}
