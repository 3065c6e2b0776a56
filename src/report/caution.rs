//! stub
/// stub
pub const LINE: &str = "Caution: estimate.";
