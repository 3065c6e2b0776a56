//! Performance maps (placeholder until the surfaces land).
/// A compressor's map.
#[derive(Debug)]
pub struct CompressorMap;
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
