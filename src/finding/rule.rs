//! How a value is judged: what it measures, which side of its limit is good, where that limit comes
//! from, and how bad it is to pass it. The rows that are made of these stand in `catalogue.rs`.

use crate::matching::Limits;

/// How bad a finding is; the worst is the greatest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Within the limit, or worth knowing and no more.
    Ok,
    /// Within 5 % of a limit or a margin below 1.25 times its minimum, whoever set it; or past a
    /// rule of thumb that is too weak to turn a build down.
    Near,
    /// Reckoned where there are no data: the number is a continuation.
    OutsideData,
    /// A limit is passed, be it the build's, a rule of thumb's or nature's.
    Over,
}

/// What value and limit of a finding measure, always in SI (rpm for speeds).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Absolute pressure, Pa.
    AbsolutePressure,
    /// Temperature, K.
    Temperature,
    /// Rotational speed, rpm.
    Speed,
    /// Speed of a tip or a belt, m/s.
    SurfaceSpeed,
    /// Force, N.
    Force,
    /// Power, W.
    Power,
    /// One number over another of its like.
    Ratio,
    /// Part of a whole, 0 to 1 (a margin may be negative).
    Share,
}

/// Which side of its limit a value should stay on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// The limit is the largest value that is good.
    AtMost,
    /// The limit is the smallest value that is good.
    AtLeast,
}

/// Where the limit of one finding came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The build says so.
    Build,
    /// A rule of thumb where the build says nothing.
    CommonPractice,
    /// It follows from what the thing is: a map's edge, a table's end, a balance.
    Nature,
}

/// Where the limit of a code comes from, before any rule of thumb stands in for it.
#[derive(Debug, Clone, Copy)]
pub enum Origin {
    /// A key of `[limits]`, read by this.
    Limits(fn(&Limits) -> Option<f64>),
    /// The part's own `max_speed`.
    MaxSpeed,
    /// The `boost_limit` of a wastegate.
    BoostLimit,
    /// No key sets it: a rule of thumb alone.
    RuleOfThumb,
    /// What the thing is.
    Nature,
}

/// The limit of common practice, where the build says nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Usual {
    /// There is none.
    None,
    /// One figure for all.
    Figure(Rule),
    /// A multiple of the pressure at the site.
    TimesSite(Rule),
    /// One a kind of machine.
    ByMachine {
        /// Rotors without internal compression.
        roots: Rule,
        /// Rotors that compress inside.
        screw: Rule,
        /// A centrifugal wheel, or a stage whose ratio is given.
        wheel: Rule,
    },
    /// One a fuel, `FuelKind::knock_ratios`: warns past the lower, fails past the upper.
    ByFuel,
}

/// A limit of common practice and what it means to pass it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// The limit, in the unit of what is held against it.
    pub limit: f64,
    /// What it means to pass it.
    pub passed: Passed,
}

/// What it means that a rule of thumb is passed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Passed {
    /// The same as of a limit of the build: something breaks, or does not do what it is there for.
    Fails,
    /// It is worth saying and no reason to turn a build down.
    Warns,
    /// It warns as far as this, past which nature sets the limit and it is this bad.
    WarnsUpTo(f64, Severity),
}

impl Rule {
    /// A rule that fails a build.
    pub const fn fails(limit: f64) -> Self {
        let passed = Passed::Fails;
        Self { limit, passed }
    }

    /// A rule that only warns.
    pub const fn warns(limit: f64) -> Self {
        let passed = Passed::Warns;
        Self { limit, passed }
    }

    /// A rule that warns as far as `end`, past which it is as bad as `then`.
    pub const fn warns_up_to(limit: f64, end: f64, then: Severity) -> Self {
        let passed = Passed::WarnsUpTo(end, then);
        Self { limit, passed }
    }
}

/// How bad a finding of a code is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grading {
    /// By its margin: `over` past the limit, `near` close to it.
    Margin,
    /// Always the same, where it is found at all.
    Always(Severity),
    /// The first; the second where the check sees that it is worse.
    OrWorse(Severity, Severity),
}

impl Grading {
    /// How bad it is before a margin or the check says more.
    pub const fn least(self) -> Severity {
        match self {
            Self::Margin => Severity::Ok,
            Self::Always(severity) | Self::OrWorse(severity, _) => severity,
        }
    }

    /// How bad it is at the worst.
    pub const fn most(self) -> Severity {
        match self {
            Self::Margin => Severity::Over,
            Self::Always(severity) | Self::OrWorse(_, severity) => severity,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_passed_limit_is_worse_than_missing_data_and_that_worse_than_a_near_one() {
        assert!(Severity::Over > Severity::OutsideData);
        assert!(Severity::OutsideData > Severity::Near && Severity::Near > Severity::Ok);
    }
}
