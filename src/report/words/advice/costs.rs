//! Steps about the head, injectors, knocking, belts, and power that is not known.

use super::super::figure::{percent, plain};
use super::Say;
use crate::finding::{Code, Detail, Grade, Missing};
use crate::quantity::Kind;

impl Say<'_> {
    pub(super) fn costs(&self) -> Option<String> {
        Some(match (self.finding.code, self.finding.detail) {
            (Code::ClampMargin, _) => self.clamp(),
            (Code::InjectorDuty, Detail::InjectorFactor(factor)) if factor > 1.0 => format!(
                "Fit injectors of {} times the flow, or raise the fuel's pressure by the square of that.",
                plain(factor)
            ),
            (Code::InjectorDuty, _) => "Little room is left for more fuel.".to_owned(),
            (Code::Knock, Detail::Knock(grade)) => knock(grade).to_owned(),
            (Code::Knock, _) => "Less boost, or a colder charge.".to_owned(),
            (Code::BeltPull, _) => {
                "Larger pulleys on both shafts lower the pull, as does a bearing carrier beside the \
                 supercharger's pulley."
                    .to_owned()
            }
            (Code::BeltSpeed, _) => {
                "Take smaller pulleys on both shafts, or steel ones that were balanced.".to_owned()
            }
            (Code::EvaporationHeldBack, _) => match self.finding.value {
                Some(share) => format!(
                    "Only {} of the fuel finds room as vapour ahead of the valves; the rest goes on \
                     as drops.",
                    percent(share)
                ),
                None => "The rest goes on as drops.".to_owned(),
            },
            (Code::PowerUnknown, Detail::Missing(missing)) => give(missing).to_owned(),
            (Code::PowerUnknown, _) => "Give what is missing for it.".to_owned(),
            _ => return None,
        })
    }

    fn clamp(&self) -> String {
        let Detail::Clamp {
            now,
            needed,
            allowed,
            is_limit,
        } = self.finding.detail
        else {
            return "Stronger or more studs, or less boost.".to_owned();
        };
        let (now, needed) = (
            self.value(now, Kind::Force),
            self.value(needed, Kind::Force),
        );
        let allowed = self.absolute(allowed);
        let what = if is_limit {
            "max_cylinder_pressure"
        } else {
            "the manifold"
        };
        if self.beyond {
            format!(
                "At the weak end the studs of a cylinder clamp with {now} and would need {needed}, or \
                 {what} at most {allowed}: an estimate, no release to build."
            )
        } else {
            format!(
                "Go no further: at the weak end the studs of a cylinder clamp with {now}, and the least \
                 margin is reached with {what} at {allowed}."
            )
        }
    }
}

const fn knock(grade: Grade) -> &'static str {
    match grade {
        Grade::Easy => "Close to what this fuel stands: watch spark timing and charge temperature.",
        Grade::Care => {
            "A grade, no prediction: it takes care with spark, mixture and charge temperature; less \
             boost, a colder charge, a lower compression ratio or a fuel that stands more help."
        }
        Grade::TooMuch => {
            "A grade, no prediction: mostly too much for this fuel; take less boost, a colder charge, a \
             lower compression ratio, or a fuel that stands more."
        }
    }
}

const fn give(missing: Missing) -> &'static str {
    match missing {
        Missing::Fuel => "Add [fuel], [engine.combustion] and [exhaust].",
        Missing::Combustion => "Add [engine.combustion] and [exhaust].",
        Missing::Exhaust => "Add [exhaust] (pressure_drop and at_flow), or [turbine].",
        Missing::DrivenTurbine => {
            "Let the turbine drive its compressor: take out the compressor's pressure_ratio."
        }
        Missing::Drive => {
            "Give kind, displacement and drive_ratio of the supercharger in place of its pressure_ratio."
        }
        Missing::Stroke => "Give engine.stroke, on which friction hangs.",
    }
}
