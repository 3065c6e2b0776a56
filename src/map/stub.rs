//! stub
use super::CompressorMap;
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
