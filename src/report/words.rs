//! stub
use crate::finding::Finding; use crate::matching::Layout; use crate::quantity::UnitSystem; use super::FindingView;
/// stub
pub fn view(_l: &Layout, _f: &Finding) -> FindingView { FindingView { code: "x", what: String::new(), place: None, rpm: None, value: None, limit: None, margin: None, unit: "1", severity: "ok", advice: String::new() } }
/// stub
pub fn list(_l: &Layout, _f: &[Finding], _s: UnitSystem) -> String { String::new() }
