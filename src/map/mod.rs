//! Performance maps (placeholder until the surfaces land).
/// A compressor's map.
#[derive(Debug)]
pub struct CompressorMap;
/// A supercharger's map.
#[derive(Debug)]
pub struct SuperchargerMap;
/// A turbine's map.
#[derive(Debug)]
pub struct TurbineMap;
