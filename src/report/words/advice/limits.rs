//! Steps towards the limits of build, parts and maps.

use super::super::figure::{percent, plain};
use super::Say;
use crate::finding::{Code, Detail, Maker};
use crate::map::Region;
use crate::quantity::Kind;

impl Say<'_> {
    pub(super) fn limits(&self) -> Option<String> {
        let detail = self.finding.detail;
        Some(match (self.finding.code, detail) {
            (Code::ManifoldPressure, Detail::Boost(maker)) => self.boost_maker(maker),
            (Code::CylinderPressure, Detail::Peak { manifold, high }) => self.peak(manifold, high),
            (Code::ChargeTemperature, _) => self.charge(),
            (Code::ExhaustTemperature, _) => self.exhaust(),
            (
                Code::DrivePressureRatio,
                Detail::Setting {
                    now,
                    needed: Some(needed),
                    ..
                },
            ) => {
                let now = self.value(now, Kind::Area);
                self.setting(
                    "Enlarge",
                    &format!("the turbine's effective area (now {now})"),
                    &format!("about {}", self.value(needed, Kind::Area)),
                    ", or open the wastegate earlier",
                )
            }
            (Code::DrivePressureRatio, _) => {
                "A larger turbine or an earlier wastegate lowers it.".to_owned()
            }
            (Code::SuperchargerOutletTemperature, _) => self.stage_ratio(
                ": turn it slower and let the turbocharger carry more, or cool the air behind it",
            ),
            (Code::CompressorOutletTemperature, _) => self.stage_ratio(
                ": less boost, more of it from the other stage, or a cooler between the stages",
            ),
            (Code::TurboSpeed, _) => self.stage_ratio(", or fit a larger compressor"),
            (Code::SuperchargerSpeed | Code::TipSpeed, _) => self.slower(),
            (Code::SurgeMargin, _) => self.surge(),
            (
                Code::OutsideMap,
                Detail::Map {
                    region, low_end, ..
                },
            ) => outside_map(region, low_end),
            _ => return None,
        })
    }

    fn boost_maker(&self, maker: Maker) -> String {
        match maker {
            Maker::Gate { needed_boost } => self.setting(
                "Lower",
                "the wastegate's boost_limit",
                &self.boost(needed_boost),
                " or below",
            ),
            Maker::Bypass {
                needed_boost: Some(boost),
            } => self.setting("Lower", "bypass_pressure", &self.boost(boost), " or below"),
            Maker::Bypass { needed_boost: None } => {
                "The bypass holds the pressure: set bypass_pressure lower.".to_owned()
            }
            Maker::Supercharger {
                drive_ratio,
                needed,
            } => self.setting(
                "The supercharger sets the flow: lower",
                &format!("the drive ratio (now {})", plain(drive_ratio)),
                &format!("about {}", plain(needed)),
                " with a larger pulley on it, or fit a regulated bypass",
            ),
            Maker::Turbo {
                has_gate,
                needed_boost,
            } => {
                let change = if has_gate {
                    "Set"
                } else {
                    "Fit a wastegate, or a larger turbine, and set"
                };
                let boost = self.boost(needed_boost);
                self.setting(change, "boost_limit", &boost, " or below")
            }
            Maker::Other => "Lower the pressure ratio of the stages.".to_owned(),
        }
    }

    fn slower(&self) -> String {
        let Detail::Setting {
            now,
            needed: Some(needed),
            ..
        } = self.finding.detail
        else {
            return "Turn it slower.".to_owned();
        };
        self.setting(
            "Lower",
            &format!("the drive ratio (now {})", plain(now)),
            &plain(needed),
            " with a larger pulley on the supercharger",
        )
    }

    fn peak(&self, manifold: f64, high: Option<f64>) -> String {
        let manifold = self.absolute(manifold);
        let limit = self.finding.limit.unwrap_or(f64::INFINITY);
        match high.filter(|high| *high > limit) {
            Some(high) if !self.beyond => format!(
                "Its spread reaches {}: keep away from it, since the usual peak is at the limit with the \
                 manifold at {manifold}.",
                self.absolute(high)
            ),
            _ => self.setting(
                "Bring",
                "the manifold",
                &manifold,
                " or below, or lower the compression ratio",
            ),
        }
    }

    fn charge(&self) -> String {
        match self.finding.detail {
            Detail::NoCooler => "Fit a charge cooler, or lower the boost.".to_owned(),
            Detail::Setting {
                now,
                needed: Some(needed),
                ..
            } => self.setting(
                "Raise",
                &format!("the effectiveness of the cooler (now {})", percent(now)),
                &format!("about {}", percent(needed)),
                " by a larger core or more cooling flow, or lower the boost",
            ),
            _ => {
                "This cooler alone cannot hold it: lower the boost, or give it colder air or water."
                    .to_owned()
            }
        }
    }

    fn exhaust(&self) -> String {
        match self.finding.detail {
            Detail::Setting {
                now,
                needed: Some(needed),
                ..
            } if self.beyond => format!(
                "Run leaner, at an air–fuel ratio of about {needed:.1} (now {now:.1}): less fuel, or \
                 more air.",
            ),
            _ if self.beyond => "Give less fuel or more air.".to_owned(),
            _ => "Little room is left: add no fuel without adding air.".to_owned(),
        }
    }

    fn stage_ratio(&self, also: &str) -> String {
        match self.finding.detail {
            Detail::Setting {
                now,
                needed: Some(needed),
                ..
            } => self.setting(
                "Lower",
                &format!("its pressure ratio (now {})", plain(now)),
                &format!("about {}", plain(needed)),
                also,
            ),
            _ => format!("Lower its pressure ratio{also}."),
        }
    }

    fn surge(&self) -> String {
        if self.finding.value.is_none() {
            return "The map has no surge line at this pressure ratio: lower the ratio, or find a \
                    map that reaches it."
                .to_owned();
        }
        let at_same_speed = match self.finding.detail {
            Detail::Surge { at_same_speed } => {
                format!(" ({} at the same speed)", percent(at_same_speed))
            }
            _ => String::new(),
        };
        format!(
            "Move away from surge{at_same_speed}: a smaller compressor, less boost at this speed, \
             or more flow through the engine.",
        )
    }
}

fn outside_map(region: Region, low_end: bool) -> String {
    if low_end {
        return "The compressor hardly works here: the figures are rough, and nothing needs doing."
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
            "Faster than it was measured: slow it down by less boost, another pulley or a larger \
             machine."
        }
        Region::UnderSpeed(_) => {
            "Slower than it was measured: take these numbers as a guess, or find a map with \
             slower lines."
        }
        _ => "Take these numbers as a guess: the map was not measured here.",
    }
    .to_owned()
}
