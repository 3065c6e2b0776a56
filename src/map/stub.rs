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
/// o
pub struct Outline { /// a
 pub speed_lines: Vec<(f64, Vec<[f64;2]>)>, /// b
 pub surge: Vec<[f64;2]>, /// c
 pub choke: Vec<[f64;2]>, /// d
 pub hull: Vec<[f64;2]> }
impl CompressorMap { /// o
 pub fn outline(&self) -> Outline { Outline { speed_lines: vec![], surge: vec![], choke: vec![], hull: vec![] } } }
/// i
pub struct Isl { /// a
 pub level: f64, /// b
 pub rings: Vec<Vec<[f64;2]>> }
/// e
pub fn efficiency_islands(_m: &CompressorMap, _l: &[f64]) -> Vec<Isl> { vec![] }
