//! Steps towards the limits of build, parts and maps.

use super::super::figure::percent;
use super::Say;
use crate::finding::{Detail, Maker, Reach};
use crate::map::Region;

impl Say<'_> {
    pub(super) fn manifold_pressure(&self) -> String {
        let maker = match self.finding.detail {
            Detail::Boost(maker) => maker,
            _ => Maker::Other,
        };
        match maker {
            Maker::Gate(_) => self.step("Lower the wastegate's boost_limit", ""),
            Maker::Bypass(_) => self.step("Lower bypass_pressure", ""),
            Maker::Supercharger(_) => self.step(
                "The supercharger sets the flow: lower its drive ratio with a larger pulley on it, or fit \
                 a regulated bypass",
                " with a larger pulley on it, or fit a regulated bypass: the supercharger sets the flow",
            ),
            Maker::Turbo { has_gate: true, .. } => self.step("Lower boost_limit", ""),
            Maker::Turbo { .. } => self.step(
                "Fit a wastegate with a boost_limit, or a larger turbine",
                ", or fit a wastegate",
            ),
            Maker::Other => self.step("Lower the pressure ratio of the stages", ""),
        }
    }

    pub(super) fn slower(&self) -> String {
        self.step(
            "Reduce its speed with a larger pulley on it",
            " with a larger pulley on it",
        )
    }

    pub(super) fn cylinder_pressure(&self) -> String {
        let limit = self.finding.limit.unwrap_or(f64::INFINITY);
        let high = match self.finding.detail {
            Detail::Peak(high) => high.filter(|high| *high > limit && !self.beyond),
            _ => None,
        };
        let step = self.step(
            "Take less boost, or lower the compression ratio",
            ", or lower the compression ratio",
        );
        match high {
            Some(high) => format!(
                "The upper estimate, {}, is past it; of the mid estimate: {}",
                self.absolute(high),
                step
            ),
            None => step,
        }
    }

    pub(super) fn charge(&self) -> String {
        if self.finding.detail == Detail::NoCooler {
            return if self.beyond {
                "Fit a charge cooler, or lower the boost.".to_owned()
            } else {
                "Little room is left: a charge cooler would make some.".to_owned()
            };
        }
        match self.finding.step.map(|step| step.to) {
            // Endless, or none.
            Some(Reach::NotUpTo(_)) if self.beyond => {
                "No cooler of any size reaches it with what cools it here: give it colder air or water, \
                 or lower the boost."
                    .to_owned()
            }
            Some(Reach::NotUpTo(_)) => "The charge would keep it without this cooler.".to_owned(),
            _ => self.step(
                "Give it a larger core or more cooling flow, or lower the boost",
                " by a larger core or more cooling flow, or lower the boost",
            ),
        }
    }

    pub(super) fn exhaust(&self) -> String {
        if self.beyond {
            self.step("Give less fuel or more air", "; more air does the same")
        } else {
            self.step("Little room is left: add no fuel without adding air", "")
        }
    }

    pub(super) fn drive_pressure(&self) -> String {
        self.step(
            "Fit a larger turbine, or open the wastegate earlier",
            ", or open the wastegate earlier",
        )
    }

    pub(super) fn turbo_speed(&self) -> String {
        self.step(
            "Take less boost from it, or fit a larger compressor",
            ", or fit a larger compressor",
        )
    }

    pub(super) fn compressor_outlet(&self) -> String {
        self.step(
            "Take less boost, more of it from the other stage, or fit a cooler between the stages",
            ", take more of the boost from the other stage, or fit a cooler between the stages",
        )
    }

    pub(super) fn supercharger_outlet(&self) -> String {
        self.step(
            "Turn it slower and let the turbocharger carry more",
            ", and let the turbocharger carry more",
        )
    }

    pub(super) fn surge(&self) -> String {
        if self.finding.value.is_none() {
            return "The map has no surge line at this pressure ratio: lower the ratio, or find a \
                    map that reaches it."
                .to_owned();
        }
        let at_same_speed = match self.finding.detail {
            Detail::Surge { at_same_speed } => {
                format!(" (margin {} at the same speed)", percent(at_same_speed))
            }
            _ => String::new(),
        };
        let also = format!(", or fit a smaller compressor{at_same_speed}");
        let otherwise = format!(
            "Move away from surge{at_same_speed}: a smaller compressor, less boost at this speed, or \
             more flow through the engine"
        );
        self.step(&otherwise, &also)
    }

    pub(super) fn outside_map(&self) -> String {
        let Detail::Map {
            region, low_end, ..
        } = self.finding.detail
        else {
            return "Treat these numbers as a guess: the map was not measured here.".to_owned();
        };
        if low_end {
            return "The compressor is barely loaded here: the figures are rough, and no action is \
                    needed."
                .to_owned();
        }
        match region {
            Region::BeyondSurge(_) => {
                "Here it would surge: fit a smaller compressor, or take less boost at this speed."
            }
            Region::BeyondChoke(_) => {
                "It is too small for this flow: fit a larger compressor, or put the supercharger's \
                 work where the flow is lower."
            }
            Region::OverSpeed(_) => {
                "Above the map's speed range: slow it down by less boost, another pulley or a larger \
                 machine."
            }
            Region::UnderSpeed(_) => {
                "Below the map's speed range: treat these numbers as a guess, or find a map with \
                 slower lines."
            }
            _ => "Treat these numbers as a guess: the map was not measured here.",
        }
        .to_owned()
    }
}
