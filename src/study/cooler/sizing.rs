//! Whether a cooler is enough, and what would be: each size is the root of the charge temperature
//! over the whole line, matched anew with the changed cooler at every trial.

use std::cell::Cell;

use rayon::prelude::*;

use super::changed::{Knob, cooler_at, matched};
use super::point::{AtSpeed, CoolerPoint, least_transfer_units};
use crate::air_path::{Cooler, Exchange};
use crate::matching::{Installation, Layout, Match, Neighbour};
use crate::numeric::root::{Bracketed, between};

/// A cooler against a charge temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The charge temperature in the manifold that must not be passed, K.
    pub target: f64,
    /// At how many speeds of the line it is passed.
    pub points_over: usize,
    /// The share of the effectiveness needed that is missing where most of it is: 0.06 with 94 % of
    /// what is needed there. `None` where it is enough, or no finite size would do.
    pub short_by: Option<f64>,
    /// The share of its effectiveness that it could do without at every speed. `None` where it is
    /// not enough.
    pub to_spare: Option<f64>,
    /// What of the cooler would just do over the whole line; the effectiveness first.
    pub sizes: Vec<Size>,
}

/// One thing of the cooler that, changed alone, would just reach the target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// What is changed.
    pub knob: Knob,
    /// What it is now, at the speed that asks the most.
    pub have: f64,
    /// What would do.
    pub answer: SizeNeeded,
}

/// What would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SizeNeeded {
    /// So much, at the engine speed in rpm that asks the most.
    Needed {
        /// In the unit of the thing.
        value: f64,
        /// Engine speed, rpm.
        rpm: f64,
    },
    /// The target is kept without any of it.
    Nothing,
    /// No finite size of it reaches the target.
    OutOfReach {
        /// Charge temperature with as much of it as was looked at, K.
        coldest: f64,
        /// Engine speed, rpm.
        rpm: f64,
    },
}

/// Charge temperature counts as met within this, K.
const MET: f64 = 1e-6;
/// Step downwards from what there is.
const LESS: f64 = 0.8;
/// Of these at most: to a hundredth.
const STEPS: usize = 20;
/// OnePointSize of a factor or an effectiveness that counts as closed.
const CLOSED: f64 = 1e-12;

impl Verdict {
    /// Whether the target is kept at every speed that has a match.
    pub fn is_enough(&self) -> bool {
        self.points_over == 0
    }

    /// The size of one kind.
    pub fn size(&self, knob: Knob) -> Option<&Size> {
        self.sizes.iter().find(|size| size.knob == knob)
    }
}

impl Size {
    /// Needed over present.
    pub fn factor(&self) -> Option<f64> {
        match self.answer {
            SizeNeeded::Needed { value, .. } if self.have > 0.0 => Some(value / self.have),
            _ => None,
        }
    }
}

/// Holds a cooler against a target at all matches of a line.
pub(super) fn verdict(
    installation: &Installation,
    part: usize,
    solved: &[&CoolerPoint],
    target: f64,
) -> Verdict {
    let points: Vec<AtSpeed> = solved.iter().map(|point| point.at_speed()).collect();
    let points = points.as_slice();
    let over = |point: &&AtSpeed| point.charge_temperature > target;
    let points_over = points.iter().filter(over).count();
    let knobs = cooler_at(installation, part).map_or(&[][..], Knob::of);
    let mut sizes: Vec<Size> = Vec::new();
    for &knob in knobs {
        let found = size(installation, part, points, target, knob);
        sizes.extend(found);
        sizes.extend(found.and_then(|size| behind(installation, part, points, &size)));
    }
    let needed = sizes.first().map(|size| size.answer);
    let share = |needed| match needed {
        SizeNeeded::Needed { .. } => scarcest(installation, part, points, target),
        SizeNeeded::Nothing => Some(Share::spare(0.0, 1.0)),
        SizeNeeded::OutOfReach { .. } => None,
    };
    let share = needed.and_then(share);
    Verdict {
        target,
        points_over,
        short_by: share
            .filter(|share| points_over > 0 && share.missing > 0.0)
            .map(|share| share.missing),
        to_spare: share.filter(|_| points_over == 0).map(|share| share.spare),
        sizes,
    }
}

/// The effectiveness of a cooler, counted from 0 in flow order, that just keeps the charge at a
/// temperature in K over all these matches.
pub(in crate::study) fn needed_effectiveness(
    installation: &Installation,
    layout: &Layout,
    matches: &[&Match],
    cooler: usize,
    target: f64,
) -> Option<Size> {
    let (_, part) = layout.coolers.get(cooler)?;
    let points: Option<Vec<AtSpeed>> = matches
        .iter()
        .map(|found| AtSpeed::new(layout, found, cooler))
        .collect();
    size(installation, *part, &points?, target, Knob::Effectiveness)
}

/// Effectiveness needed at one speed against that which is there.
#[derive(Clone, Copy)]
struct Share {
    /// 1 − have/needed: 1 where there is none.
    missing: f64,
    /// 1 − needed/have.
    spare: f64,
}

impl Share {
    fn spare(needed: f64, have: f64) -> Self {
        Self {
            missing: 0.0,
            spare: 1.0 - needed / have,
        }
    }

    fn of(needed: f64, have: f64) -> Self {
        if needed > have {
            Self {
                missing: 1.0 - have.max(0.0) / needed,
                spare: 0.0,
            }
        } else {
            Self::spare(needed, have)
        }
    }
}

/// The speed at which most of the effectiveness is missing, or least of it to spare: where what is
/// there varies along the line it need not be the speed that asks the most.
fn scarcest(
    installation: &Installation,
    part: usize,
    points: &[AtSpeed],
    target: f64,
) -> Option<Share> {
    let share = |point: &AtSpeed| {
        let asked = (Knob::Effectiveness, target);
        let sought = Sought::new(installation, part, point, asked)?;
        match sought.find() {
            OnePointSize::Needed(needed) => Some(Share::of(needed, point.state.effectiveness)),
            OnePointSize::Nothing => Some(Share::spare(0.0, 1.0)),
            OnePointSize::OutOfReach { .. } | OnePointSize::Unknown => None,
        }
    };
    let shares: Option<Vec<Share>> = points.par_iter().map(share).collect();
    let mut worst: Option<Share> = None;
    for share in shares? {
        let is_worse = |worst: Share| (share.missing, -share.spare) > (worst.missing, -worst.spare);
        if worst.is_none_or(is_worse) {
            worst = Some(share);
        }
    }
    worst
}

/// What of one thing would do over the whole line: found at the hottest speed, and again at every
/// speed that is still too hot with it.
fn size(
    installation: &Installation,
    part: usize,
    points: &[AtSpeed],
    target: f64,
    knob: Knob,
) -> Option<Size> {
    let mut hottest_first: Vec<&AtSpeed> = points.iter().collect();
    hottest_first.sort_by(|a, b| b.charge_temperature.total_cmp(&a.charge_temperature));
    let mut most: Option<(f64, &AtSpeed)> = None;
    for point in hottest_first {
        let sought = Sought::new(installation, part, point, (knob, target))?;
        if most.is_some_and(|(enough, _)| sought.excess(enough) <= MET) {
            continue;
        }
        match sought.find() {
            OnePointSize::Needed(value) => most = Some((value, point)),
            OnePointSize::Nothing => {}
            OnePointSize::OutOfReach { coldest } => {
                let (have, rpm) = (have(knob, point)?, point.rpm);
                let answer = SizeNeeded::OutOfReach { coldest, rpm };
                return Some(Size { knob, have, answer });
            }
            OnePointSize::Unknown => return None,
        }
    }
    let Some((turned, point)) = most else {
        let have = have(knob, points.first()?)?;
        let answer = SizeNeeded::Nothing;
        return Some(Size { knob, have, answer });
    };
    let (have, rpm) = (have(knob, point)?, point.rpm);
    let value = match knob {
        Knob::Effectiveness => turned,
        _ => have * turned,
    };
    let answer = SizeNeeded::Needed { value, rpm };
    Some(Size { knob, have, answer })
}

/// The UA behind a given effectiveness that is needed, where the sink's flow is known: matched with
/// that effectiveness, and inverted there.
fn behind(
    installation: &Installation,
    part: usize,
    points: &[AtSpeed],
    needed: &Size,
) -> Option<Size> {
    let cooler = cooler_at(installation, part)?;
    let (Exchange::Fixed(_), SizeNeeded::Needed { value, rpm }) = (&cooler.exchange, needed.answer)
    else {
        return None;
    };
    let point = points
        .iter()
        .find(|point| point.rpm.total_cmp(&rpm).is_eq())?;
    let have = have(Knob::Conductance, point)?;
    let turned = needed.knob.turned(cooler, point, value);
    let (state, engine) = matched(installation, part, turned, rpm, &mut { point.place })?;
    let answer = match state.exchanger {
        Some(exchanger) => SizeNeeded::Needed {
            value: exchanger.conductance,
            rpm,
        },
        // More than these flows allow.
        None => SizeNeeded::OutOfReach {
            coldest: engine.charge_temperature,
            rpm,
        },
    };
    Some(Size {
        knob: Knob::Conductance,
        have,
        answer,
    })
}

/// What of this thing the cooler has at a point; a face counts as 1.
fn have(knob: Knob, point: &AtSpeed) -> Option<f64> {
    // Against a sink that stands there is neither.
    let stands = point.state.flow_limit.is_some_and(|limit| limit <= 0.0);
    let none = stands.then_some(0.0);
    let exchanger = point.state.exchanger;
    match knob {
        Knob::Effectiveness => Some(point.state.effectiveness),
        Knob::Conductance => exchanger.map(|one| one.conductance).or(none),
        Knob::Face => Some(1.0),
        Knob::SinkFlow => exchanger.map(|one| one.sink_flow).or(none),
    }
}

/// One thing sought at one speed.
struct Sought<'a> {
    installation: &'a Installation,
    part: usize,
    cooler: &'a Cooler,
    point: &'a AtSpeed,
    target: f64,
    knob: Knob,
    /// The last trial's match, from which the next starts.
    near: Cell<Option<Neighbour>>,
}

/// What one point of the line asks of a size.
enum OnePointSize {
    Needed(f64),
    Nothing,
    OutOfReach { coldest: f64 },
    Unknown,
}

impl<'a> Sought<'a> {
    fn new(
        installation: &'a Installation,
        part: usize,
        point: &'a AtSpeed,
        (knob, target): (Knob, f64),
    ) -> Option<Self> {
        Some(Self {
            installation,
            part,
            cooler: cooler_at(installation, part)?,
            point,
            target,
            knob,
            near: Cell::new(point.place),
        })
    }

    /// Charge temperature above the target, K; NaN without a match, which no sign test passes.
    fn excess(&self, turned: f64) -> f64 {
        let cooler = self.knob.turned(self.cooler, self.point, turned);
        let mut near = self.near.get();
        let found = matched(
            self.installation,
            self.part,
            cooler,
            self.point.rpm,
            &mut near,
        );
        self.near.set(near);
        found.map_or(f64::NAN, |(_, engine)| {
            engine.charge_temperature - self.target
        })
    }

    /// From nothing at all to an endless cooler; factors are sought by their logarithm.
    fn find(&self) -> OnePointSize {
        let (low, high) = self.range();
        let turned = |x: f64| {
            if self.knob == Knob::Effectiveness {
                x
            } else {
                x.exp()
            }
        };
        let coldest = self.excess(turned(high));
        if coldest.is_nan() {
            return OnePointSize::Unknown;
        }
        // First, because a sink hotter than the charge makes more of a cooler worse.
        if self.excess(turned(low)) <= MET {
            return OnePointSize::Nothing;
        }
        // At the target itself only an endless cooler would arrive.
        if coldest >= -MET {
            return OnePointSize::OutOfReach {
                coldest: coldest + self.target,
            };
        }
        match between(low, high, |x| self.excess(turned(x)), MET, CLOSED) {
            Bracketed::Root(x) | Bracketed::Jump(x) => OnePointSize::Needed(turned(x)),
            Bracketed::NoSign(..) => self.in_reach(high, turned),
        }
    }

    /// Without a match near nothing at all (an engine that does not run uncooled, a face that lets
    /// nothing through): upwards from what there is, or downwards as far as there are matches.
    fn in_reach(&self, high: f64, turned: impl Fn(f64) -> f64) -> OnePointSize {
        let now = match self.knob {
            Knob::Effectiveness => self.point.state.effectiveness,
            _ => 0.0,
        };
        let (mut low, mut high) = (now, high);
        for _ in 0..STEPS {
            if self.excess(turned(low)) > MET {
                break;
            }
            high = low;
            low = match self.knob {
                Knob::Effectiveness => LESS * low,
                _ => low + LESS.ln(),
            };
        }
        match between(low, high, |x| self.excess(turned(x)), MET, CLOSED) {
            Bracketed::Root(x) | Bracketed::Jump(x) => OnePointSize::Needed(turned(x)),
            Bracketed::NoSign(..) => OnePointSize::Unknown,
        }
    }

    /// Ends of the search: an effectiveness, or the logarithm of a factor. A UA ten thousand times
    /// as large counts as endless; a face or a flow twenty times as large is none that anybody
    /// builds.
    fn range(&self) -> (f64, f64) {
        match self.knob {
            Knob::Effectiveness => (0.0, 1.0),
            Knob::Conductance => (1e-4_f64.ln(), 1e4_f64.ln()),
            Knob::Face | Knob::SinkFlow => (0.02_f64.ln(), 20.0_f64.ln()),
        }
    }
}

/// How much larger the UA of a fixed effectiveness has to be, were its sink so plentiful that it
/// does not warm.
pub fn least_size_factor(have: f64, needed: f64) -> Option<f64> {
    Some(least_transfer_units(needed)? / least_transfer_units(have)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn what_is_missing_or_to_spare_counts_from_what_is_needed_or_there() {
        assert_relative_eq!(Share::of(0.8, 0.6).missing, 0.25, epsilon = 1e-12);
        assert_relative_eq!(Share::of(0.5, 0.8).spare, 0.375, epsilon = 1e-12);
        // Against a sink that stands all of it is missing.
        assert_relative_eq!(Share::of(0.7, 0.0).missing, 1.0, epsilon = 1e-12);
        assert_relative_eq!(Share::of(0.7, -0.1).missing, 1.0, epsilon = 1e-12);
    }
}
