//! A match beside the installation it belongs to: who is where, and values against their limits.

use super::catalogue::Code;
use super::detail::{Detail, Extra};
use super::entry::Finding;
use super::rule::Rule;
use super::subject::Subject;
use crate::air_path::{Part, SuperchargerKind};
use crate::matching::{
    BypassState, Installation, Layout, Match, StageState, StationPlace, StationState,
};

/// All that findings are made from.
pub(super) struct Context<'a> {
    pub installation: &'a Installation,
    pub layout: &'a Layout,
    pub found: &'a Match,
    pub extra: &'a Extra,
}

/// One stage of a match.
#[derive(Clone, Copy)]
pub(super) struct MatchedStage<'a> {
    /// Its index among the stages.
    pub index: usize,
    /// The index of its part in the air path.
    pub part: usize,
    /// What it is.
    pub kind: &'a Part,
    /// What it does.
    pub state: &'a StageState,
}

impl<'a> Context<'a> {
    /// Engine speed, rpm.
    pub fn rpm(&self) -> f64 {
        self.found.rpm
    }

    /// A station's subject and state, where the layout has it.
    pub fn station(&self, place: StationPlace) -> Option<(Subject, &'a StationState)> {
        let index = self.layout.station_at(place)?;
        Some((Subject::Station(index), self.found.stations.get(index)?))
    }

    /// The manifold; always there.
    pub fn manifold(&self) -> Option<(Subject, &'a StationState)> {
        self.station(StationPlace::Manifold)
    }

    /// Ahead of the first turbine.
    pub fn turbine_inlet(&self) -> Option<(Subject, &'a StationState)> {
        self.station(StationPlace::TurbineInlet(0))
    }

    /// The stages in flow order.
    pub fn stages(&self) -> impl Iterator<Item = MatchedStage<'a>> {
        let parts = &self.installation.air_path;
        self.layout
            .stages
            .iter()
            .zip(&self.found.stages)
            .enumerate()
            .filter_map(move |(index, ((_, part), state))| {
                Some(MatchedStage {
                    index,
                    part: *part,
                    kind: parts.get(*part)?,
                    state,
                })
            })
    }

    /// A turbo compressor, counted from 0 in flow order.
    pub fn compressor(&self, count: usize) -> Option<MatchedStage<'a>> {
        self.stages()
            .filter(|stage| matches!(stage.kind, Part::TurboCompressor(_)))
            .nth(count)
    }

    /// The displacement machine that sets the flow, and its drive ratio: it delivers, nothing
    /// passes around it, and it compresses.
    pub fn setting_supercharger(&self) -> Option<(MatchedStage<'a>, f64)> {
        self.stages().find_map(|stage| {
            let Part::Supercharger(supercharger) = stage.kind else {
                return None;
            };
            let SuperchargerKind::Displacement(machine) = &supercharger.kind else {
                return None;
            };
            let delivers = matches!(stage.state.bypass, BypassState::None | BypassState::Shut);
            (delivers && stage.state.pressure_ratio > 1.0).then_some((stage, machine.belt.ratio))
        })
    }

    /// Ahead of the first turbine, or behind an engine without one.
    pub fn exhaust(&self) -> Option<(Subject, &'a StationState)> {
        let inlet = self.turbine_inlet();
        inlet.or_else(|| self.station(StationPlace::Exhaust))
    }

    /// Something found, as bad as its code is at least.
    pub fn remark(&self, code: Code, subject: Subject) -> Finding {
        Finding::remark(code, subject, self.rpm())
    }

    /// A value against a limit.
    pub fn against(&self, code: Code, subject: Subject, pair: (f64, f64)) -> Option<Finding> {
        Finding::against(code, subject, self.rpm(), pair)
    }

    /// A value against a rule of thumb.
    pub fn against_rule(&self, code: Code, subject: Subject, pair: (f64, Rule)) -> Option<Finding> {
        Finding::against_rule(code, subject, self.rpm(), pair)
    }

    /// A value against the limit that the build sets, else against the rule of thumb; `None` without
    /// either. A limit that is set and whose value is unknown is a finding of its own.
    pub fn check(&self, code: Code, subject: Subject, value: Option<f64>) -> Option<Finding> {
        let row = code.row();
        match row.set(&self.installation.limits) {
            Some(limit) => self.check_against(code, subject, value, limit),
            None => self.against_rule(code, subject, (value?, row.rule()?)),
        }
    }

    /// A value that may be unknown against a limit that is set.
    pub fn check_against(
        &self,
        code: Code,
        subject: Subject,
        value: Option<f64>,
        limit: f64,
    ) -> Option<Finding> {
        match value {
            Some(value) => self.against(code, subject, (value, limit)),
            None => Some(self.unchecked(code, subject)),
        }
    }

    /// A limit that is set and whose value is unknown.
    pub fn unchecked(&self, limit: Code, subject: Subject) -> Finding {
        self.remark(Code::LimitNotChecked, subject)
            .with(Detail::Unchecked(limit))
    }
}

impl MatchedStage<'_> {
    /// What a finding about it is about.
    pub fn subject(&self) -> Subject {
        Subject::Stage(self.index)
    }
}
