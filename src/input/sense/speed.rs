//! Whether an engine speed asked for on the command line is one that the engine turns.

use super::beside::{FASTEST_PISTON, square_stroke};
use super::given::digits;
use crate::matching::Installation;

/// What is wrong with a speed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SpeedFault {
    /// No engine of this size turns so fast.
    CannotBe(String),
    /// Far from the speeds that the build is about.
    FarFromLine(String),
}

/// A speed so much above or below the line's is asked about.
const FAR: f64 = 1.25;

/// Judges an engine speed in rpm against the engine and the speeds of its line.
pub fn judge_speed(installation: &Installation, rpm: f64) -> Option<SpeedFault> {
    let engine = &installation.engine;
    let stroke = engine.stroke.map(|stroke| (stroke, "")).or_else(|| {
        let cylinders = f64::from(engine.cylinders?);
        Some((square_stroke(engine.displacement / cylinders), " or more"))
    });
    if let Some((stroke, how)) = stroke {
        let speed = 2.0 * stroke * rpm / 60.0;
        if speed > FASTEST_PISTON {
            return Some(SpeedFault::CannotBe(format!(
                "{} rpm cannot be right: the pistons would run at {} m/s{how}, and none runs above {FASTEST_PISTON} \
                 m/s",
                digits(rpm),
                digits(speed)
            )));
        }
    }
    let (from, to) = (engine.speeds.from, engine.speeds.to);
    if rpm > FAR * to || rpm < from / FAR {
        return Some(SpeedFault::FarFromLine(format!(
            "{} rpm is far outside the build's engine.rpm, {} to {} rpm: speed tables keep their end values \
             there",
            digits(rpm),
            digits(from),
            digits(to)
        )));
    }
    None
}
