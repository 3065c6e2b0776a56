//! stub
use super::*;
/// A supercharger's map.
#[derive(Debug)]
pub struct SuperchargerMap;
/// A point.
#[derive(Debug)]
pub struct SuperchargerPoint {
    /// ve
    pub volumetric_efficiency: f64,
    /// eff
    pub efficiency: Option<f64>,
}
impl SuperchargerMap {
    /// at
    pub fn at(&self, _speed: f64, _ratio: f64) -> SuperchargerPoint {
        SuperchargerPoint {
            volumetric_efficiency: 1.0,
            efficiency: None,
        }
    }
}
/// A turbine's map.
#[derive(Debug)]
pub struct TurbineMap;
/// p
#[derive(Debug)]
pub struct TurbinePoint {
    /// f
    pub flow: f64,
    /// eff
    pub efficiency: f64,
}
impl TurbineMap {
    /// r
    pub fn reference(&self) -> Reference {
        Reference {
            temperature: 288.15,
            pressure: 101325.0,
        }
    }
    /// at
    pub fn at(&self, _speed: CorrectedSpeed, _ratio: f64) -> TurbinePoint {
        TurbinePoint {
            flow: 1.0,
            efficiency: 0.7,
        }
    }
}
