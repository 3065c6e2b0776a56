//! Cores of other depths at the hardest point.

use super::rows::fields;
use crate::study::cooler::{DepthPoint, Depths, PaysTo, WORTH};

/// The depths, with what the build has.
#[derive(Debug, Clone)]
pub struct DepthStudy {
    /// The depths.
    pub depths: Depths,
    /// The build's depth in m, where the core's sizes are known.
    pub build_depth: Option<f64>,
    /// More air on this engine with the depth that pays, a share of the build's.
    pub air_gain: Option<f64>,
}

fields! {
DepthStudy {
    assumed = flag "assumed",
        "Whether the size follows an assumption, because the core's shape is not known."
        |d| d.depths.assumed;
    build_depth_m ? Length "depth of the build's core",
        "The build's depth, where the core's sizes are known." |d| d.build_depth;
    pays_to = one "worthwhile up to",
        "The depth beyond which 10 % more depth adds too little density." |d| d.depths.pays_to;
    place = text "place",
        "Where that lies in what was tried: inside, shallowest or deepest."
        |d| match d.depths.place {
            PaysTo::Inside => "inside",
            PaysTo::Shallowest => "shallowest",
            PaysTo::Deepest => "deepest",
        };
    air_gain ? Share "more air",
        "More air on this engine with that depth, re-solved, as a share of the build's."
        |d| d.air_gain;
    points = each "points",
        "From the shallowest to the deepest." |d| &d.depths.points;
}

DepthPoint {
    depth_factor = Number "depth factor",
        "Depth over the build's." |p| p.factor;
    effectiveness = Share "effectiveness",
        "Of the charge side: (T_in - T_out)/(T_in - T_sink)." |p| p.effectiveness;
    pressure_drop_pa = PressureDifference "pressure drop of the charge",
        "Pressure that the charge loses in the cooler." |p| p.pressure_drop;
    sink_pressure_drop_pa ? PressureDifference "pressure drop of the cooling side",
        "Pressure that the cooling air or water loses." |p| p.sink_pressure_drop;
    density_gain = Number "density gain",
        "Density at the outlet over density at the inlet, the pressure drop included."
        |p| p.density_gain;
}
}

/// The densest core past the depth that pays, where it is worth more than that one: between the two
/// the density falls, as where the flow turns laminar.
pub fn denser_beyond(depths: &Depths) -> Option<&DepthPoint> {
    let pays_to = &depths.pays_to;
    let past = depths
        .points
        .iter()
        .skip_while(|point| point.factor <= pays_to.factor)
        .skip_while(|point| point.density_gain >= pays_to.density_gain);
    let worth = (1.0 + WORTH) * pays_to.density_gain;
    past.filter(|point| point.density_gain > worth)
        .max_by(|a, b| a.density_gain.total_cmp(&b.density_gain))
}
