//! JSON, always SI.

use super::fields::{NotFinite, Writable};

/// A result as JSON text with a line break at its end.
pub fn write(result: &impl Writable) -> Result<String, NotFinite> {
    let object = result.object()?;
    let mut text =
        serde_json::to_string_pretty(&object).map_err(|fault| NotFinite(fault.to_string()))?;
    text.push('\n');
    Ok(text)
}
