//! Lines held beside the build's own: their figures, and a CSV that names the line of each row.

use serde::Serialize;

use super::events::{EventView, HysteresisView};
use super::view::{FindingView, HandOverView, LineView, RowView};
use crate::matching::Layout;
use crate::quantity::{Kind, UnitSystem, label, shown};
use crate::study::{Margin, Summary, ValueAtSpeed};

/// The name of the build's own line beside others.
pub const THE_BUILD: &str = "the build";

/// A line in a few figures; each `_rpm` is the engine speed of the figure before it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct SummaryView {
    /// Smallest surge margin at the same pressure ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin_rpm: Option<f64>,
    /// Stage of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surge_margin_stage: Option<String>,
    /// Smallest choke margin.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_margin: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_margin_rpm: Option<f64>,
    /// Stage of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub choke_margin_stage: Option<String>,
    /// Whether several stages have maps, so that a margin says whose it is.
    #[serde(skip)]
    pub has_several_maps: bool,
    /// Figures that only have an engine speed beside them.
    #[serde(flatten)]
    pub largest: LargestView,
}

/// The largest of what a line has at its points.
#[derive(Debug, Clone, Default, Serialize)]
pub struct LargestView {
    /// Highest speed of a turbocharger's shaft.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub highest_shaft_speed_rpm: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub highest_shaft_speed_engine_rpm: Option<f64>,
    /// Largest boost above the line's own site.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_boost_pa: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_boost_rpm: Option<f64>,
    /// Largest brake power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_brake_power_w: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_brake_power_rpm: Option<f64>,
    /// Largest torque.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_torque_n_m: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_torque_rpm: Option<f64>,
    /// Hottest charge in the manifold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hottest_charge_k: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hottest_charge_rpm: Option<f64>,
    /// Hottest exhaust at the first turbine's inlet, or the engine's outlet without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hottest_exhaust_k: Option<f64>,
    /// Engine speed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hottest_exhaust_rpm: Option<f64>,
}

impl SummaryView {
    /// The view of a line's figures.
    pub fn new(summary: &Summary, layout: &Layout) -> Self {
        let value = |margin: Option<Margin>| margin.map(|margin| margin.at.value);
        let rpm = |margin: Option<Margin>| margin.map(|margin| margin.at.rpm);
        let stage = |margin: Option<Margin>| {
            let (name, _) = layout.stages.get(margin?.stage)?;
            Some(name.clone())
        };
        let (surge, choke) = (summary.surge_margin, summary.choke_margin);
        Self {
            surge_margin: value(surge),
            surge_margin_rpm: rpm(surge),
            surge_margin_stage: stage(surge),
            choke_margin: value(choke),
            choke_margin_rpm: rpm(choke),
            choke_margin_stage: stage(choke),
            has_several_maps: summary.maps > 1,
            largest: LargestView::new(summary),
        }
    }
}

impl LargestView {
    /// The view of a line's largest figures.
    pub fn new(summary: &Summary) -> Self {
        let value = |at: Option<ValueAtSpeed>| at.map(|at| at.value);
        let rpm = |at: Option<ValueAtSpeed>| at.map(|at| at.rpm);
        Self {
            highest_shaft_speed_rpm: value(summary.shaft_speed),
            highest_shaft_speed_engine_rpm: rpm(summary.shaft_speed),
            largest_boost_pa: value(summary.boost),
            largest_boost_rpm: rpm(summary.boost),
            largest_brake_power_w: value(summary.power),
            largest_brake_power_rpm: rpm(summary.power),
            largest_torque_n_m: value(summary.torque),
            largest_torque_rpm: rpm(summary.torque),
            hottest_charge_k: value(summary.charge_temperature),
            hottest_charge_rpm: rpm(summary.charge_temperature),
            hottest_exhaust_k: value(summary.exhaust_temperature),
            hottest_exhaust_rpm: rpm(summary.exhaust_temperature),
        }
    }

    /// Headings of [`Self::cells`].
    pub(super) fn headings(system: UnitSystem) -> [String; 4] {
        let unit = |name: &str, kind| format!("{name}\n[{}]", label(kind, system));
        [
            "turbo speed\n[rpm]".to_owned(),
            unit("largest boost", Kind::BoostPressure),
            unit("power", Kind::Power),
            unit("torque", Kind::Torque),
        ]
    }

    /// Turbo speed, boost, power and torque, each with its engine speed.
    pub(super) fn cells(&self, system: UnitSystem) -> [String; 4] {
        let speed = Kind::RotationalSpeed;
        [
            (
                self.highest_shaft_speed_rpm,
                speed,
                self.highest_shaft_speed_engine_rpm,
            ),
            (
                self.largest_boost_pa,
                Kind::BoostPressure,
                self.largest_boost_rpm,
            ),
            (
                self.largest_brake_power_w,
                Kind::Power,
                self.largest_brake_power_rpm,
            ),
            (
                self.largest_torque_n_m,
                Kind::Torque,
                self.largest_torque_rpm,
            ),
        ]
        .map(|(value, kind, rpm)| figure_at(value, kind, rpm, system))
    }
}

/// "185.0 at 2600", or a dash.
pub(super) fn figure_at(
    value: Option<f64>,
    kind: Kind,
    rpm: Option<f64>,
    system: UnitSystem,
) -> String {
    match (value, rpm) {
        (Some(value), Some(rpm)) => format!("{} at {rpm:.0}", shown(value, kind, system)),
        _ => "–".to_owned(),
    }
}

/// A line beside the build's own.
#[derive(Debug, Clone, Serialize)]
pub struct VariantView {
    /// Its name.
    pub title: String,
    /// What it changes, as written: `KEY=VALUE`.
    pub settings: Vec<String>,
    /// Its figures.
    pub summary: SummaryView,
    /// Where the supercharger's ratio crosses 1.
    pub hand_over: Vec<HandOverView>,
    /// What happens along the line, rising in speed.
    pub events: Vec<EventView>,
    /// Where the way down differs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hysteresis: Vec<HysteresisView>,
    /// The matches, rising in speed.
    pub points: Vec<RowView>,
    /// What was found along the line, worst first.
    pub findings: Vec<FindingView>,
}

/// A row of a CSV that holds several lines.
#[derive(Debug, Serialize)]
pub struct NamedRow<'a> {
    /// The line's name.
    variant: &'a str,
    #[serde(flatten)]
    row: &'a RowView,
}

impl LineView {
    /// All rows with the names of their lines, the build's own first.
    pub fn named_rows(&self) -> Vec<NamedRow<'_>> {
        let own = (THE_BUILD, &self.points);
        let beside = self.variants.iter().map(|one| (&*one.title, &one.points));
        let lines = std::iter::once(own).chain(beside);
        lines
            .flat_map(|(variant, rows)| rows.iter().map(move |row| NamedRow { variant, row }))
            .collect()
    }
}
