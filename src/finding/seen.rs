//! A match beside the installation it belongs to: who is where.

use super::{Code, Detail, Extra, Finding, Severity, Subject};
use crate::air_path::{Part, SuperchargerKind};
use crate::matching::{
    BypassState, Installation, Layout, Match, StageState, StationPlace, StationState,
};

/// All that findings are made from.
pub(super) struct Seen<'a> {
    pub installation: &'a Installation,
    pub layout: &'a Layout,
    pub found: &'a Match,
    pub extra: &'a Extra,
}

/// One stage of a match.
#[derive(Clone, Copy)]
pub(super) struct SeenStage<'a> {
    /// Its index among the stages.
    pub index: usize,
    /// The index of its part in the air path.
    pub part: usize,
    /// What it is.
    pub kind: &'a Part,
    /// What it does.
    pub state: &'a StageState,
}

impl<'a> Seen<'a> {
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
    pub fn stages(&self) -> impl Iterator<Item = SeenStage<'a>> {
        let parts = &self.installation.air_path;
        self.layout
            .stages
            .iter()
            .zip(&self.found.stages)
            .enumerate()
            .filter_map(move |(index, ((_, part), state))| {
                Some(SeenStage {
                    index,
                    part: *part,
                    kind: parts.get(*part)?,
                    state,
                })
            })
    }

    /// A turbo compressor, counted from 0 in flow order.
    pub fn compressor(&self, count: usize) -> Option<SeenStage<'a>> {
        self.stages()
            .filter(|stage| matches!(stage.kind, Part::TurboCompressor(_)))
            .nth(count)
    }

    /// The displacement machine that sets the flow, and its drive ratio: it delivers, nothing
    /// passes around it, and it compresses.
    pub fn setting_supercharger(&self) -> Option<(SeenStage<'a>, f64)> {
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

    /// A limit that is set and whose value is unknown.
    pub fn unchecked(&self, limit: Code, subject: Subject) -> Finding {
        Finding::remark(Code::LimitNotChecked, Severity::Near, subject, self.rpm())
            .with(Detail::Unchecked(limit))
    }
}

impl SeenStage<'_> {
    /// What a finding about it is about.
    pub fn subject(&self) -> Subject {
        Subject::Stage(self.index)
    }
}
