//! What size would do, and where more depth stops paying, as every writer sees them. SI.

use serde::Serialize;

use crate::study::cooler::{Assessment, DepthPoint, Depths, Knob, PaysTo, Size, SizeNeeded, WORTH};

/// What of the cooler, changed alone, would just do.
#[derive(Debug, Clone, Serialize)]
pub struct SizeView {
    /// `effectiveness`, `conductance`, `face` or `sink flow`.
    pub what: &'static str,
    /// Unit of the two values.
    pub unit: &'static str,
    /// What it is, at the speed that asks the most.
    pub have: f64,
    /// What would do; left out where nothing or no finite size does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub needed: Option<f64>,
    /// Needed over present.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub factor: Option<f64>,
    /// The speed that asks the most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rpm: Option<f64>,
    /// `needed`, `nothing needed` or `out of reach`.
    pub answer: &'static str,
    /// The charge with as much of it as was looked at, where that is not enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coldest_k: Option<f64>,
}

/// Cores of other depths at the hardest point.
#[derive(Debug, Clone, Serialize)]
pub struct DepthsView {
    /// Whether the size follows an assumption, because the core's shape is not known.
    pub assumed: bool,
    /// The build's depth, where the core's sizes are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub build_depth_m: Option<f64>,
    /// The depth up to which a tenth more brings a density worth it.
    pub pays_to: DepthView,
    /// `inside`, `shallowest` or `deepest`: where that lies in what was looked at.
    pub place: &'static str,
    /// More air on this engine with that depth, matched anew, a share of the build's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub air_gain: Option<f64>,
    /// From the shallowest to the deepest.
    pub points: Vec<DepthView>,
}

impl DepthsView {
    /// The densest core past the depth that pays, where it is worth more than that one: between the
    /// two the density falls, as where the flow turns laminar.
    pub fn denser_beyond(&self) -> Option<&DepthView> {
        let pays_to = &self.pays_to;
        let past = self
            .points
            .iter()
            .skip_while(|point| point.depth_factor <= pays_to.depth_factor)
            .skip_while(|point| point.density_gain >= pays_to.density_gain);
        let worth = (1.0 + WORTH) * pays_to.density_gain;
        past.filter(|point| point.density_gain > worth)
            .max_by(|a, b| a.density_gain.total_cmp(&b.density_gain))
    }
}

/// A core of one depth.
#[derive(Debug, Clone, Serialize)]
pub struct DepthView {
    /// Depth over the build's.
    pub depth_factor: f64,
    /// Of the charge side.
    pub effectiveness: f64,
    /// Of the charge.
    pub pressure_drop_pa: f64,
    /// Of what takes the heat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sink_pressure_drop_pa: Option<f64>,
    /// Behind over ahead.
    pub density_gain: f64,
}

impl SizeView {
    /// A size; `face` is the core's face area in m², where its sizes are known.
    pub(super) fn new(size: &Size, face: Option<f64>) -> Self {
        let (what, unit) = match (size.knob, face) {
            (Knob::Effectiveness, _) => ("effectiveness", "1"),
            (Knob::Conductance, _) => ("conductance", "W/K"),
            (Knob::Face, Some(_)) => ("face", "m2"),
            (Knob::Face, None) => ("face", "1"),
            (Knob::SinkFlow, _) => ("sink flow", "kg/s"),
        };
        let times = match size.knob {
            Knob::Face => face.unwrap_or(1.0),
            _ => 1.0,
        };
        let (needed, rpm, answer, coldest_k) = match size.answer {
            SizeNeeded::Needed { value, rpm } => (Some(value), Some(rpm), "needed", None),
            SizeNeeded::Nothing => (None, None, "nothing needed", None),
            SizeNeeded::OutOfReach { coldest, rpm } => {
                (None, Some(rpm), "out of reach", Some(coldest))
            }
        };
        Self {
            what,
            unit,
            have: times * size.have,
            needed: needed.map(|needed| times * needed),
            factor: size.factor(),
            rpm,
            answer,
            coldest_k,
        }
    }
}

impl DepthsView {
    pub(super) fn new(depths: &Depths, assessment: &Assessment) -> Self {
        let hardest = &assessment.hardest;
        Self {
            assumed: depths.assumed,
            build_depth_m: assessment.core.map(|(_, depth)| depth),
            pays_to: DepthView::new(&depths.pays_to),
            place: match depths.place {
                PaysTo::Inside => "inside",
                PaysTo::Shallowest => "shallowest",
                PaysTo::Deepest => "deepest",
            },
            air_gain: depths
                .engine
                .map(|engine| engine.air_mass_flow / hardest.engine.air_mass_flow - 1.0),
            points: depths.points.iter().map(DepthView::new).collect(),
        }
    }
}

impl DepthView {
    fn new(point: &DepthPoint) -> Self {
        Self {
            depth_factor: point.factor,
            effectiveness: point.effectiveness,
            pressure_drop_pa: point.pressure_drop,
            sink_pressure_drop_pa: point.sink_pressure_drop,
            density_gain: point.density_gain,
        }
    }
}
