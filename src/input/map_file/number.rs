//! Numbers as a map file writes them.

/// A number of the file, with its decimal mark.
pub(super) fn number(text: &str, decimal_comma: bool) -> Result<f64, String> {
    if decimal_comma && text.contains(',') {
        if text.contains('.') {
            return Err(format!(
                "{text} has both a point and a comma: remove the thousands separator"
            ));
        }
        return number(&text.replacen(',', ".", 1), false);
    }
    // "80.000" beside decimal commas may be eighty thousand.
    if decimal_comma && text.contains('.') {
        return Err(format!(
            "{text} has a point where the file has decimal commas: write one of them throughout"
        ));
    }
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => crate::quantity::number(text).map_err(|fault| fault.to_string()),
    }
}
