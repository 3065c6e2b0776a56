//! Figures and line numbers as the checks write them.

/// A number with three significant digits, without an exponent.
pub(super) fn digits(value: f64) -> String {
    if value <= 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let (mut scale, mut decimals) = (1.0, 0);
    while value / scale >= 1000.0 {
        scale *= 10.0;
    }
    while value * 10_f64.powi(decimals) < 100.0 && decimals < 12 {
        decimals += 1;
    }
    let rounded = (value / scale * 10_f64.powi(decimals)).round() / 10_f64.powi(decimals) * scale;
    let text = format!("{rounded:.*}", decimals.unsigned_abs() as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Numbers of lines: "line 7", "lines 7, 9, 12, …".
pub(super) fn listed(mut lines: Vec<usize>) -> String {
    lines.sort_unstable();
    let shown: Vec<String> = lines.iter().take(6).map(usize::to_string).collect();
    let more = if lines.len() > 6 { ", …" } else { "" };
    let word = if lines.len() == 1 { "line" } else { "lines" };
    format!("{word} {}{more}", shown.join(", "))
}

#[cfg(test)]
mod tests {
    use super::digits;

    #[test]
    fn three_digits_are_shown_without_an_exponent() {
        for (value, text) in [
            (85_812.0, "85800"),
            (999.6, "1000"),
            (0.079_68, "0.0797"),
            (2.0, "2"),
            (71.0, "71"),
            (1234.0, "1230"),
            (0.0, "0"),
            (f64::NAN, "0"),
        ] {
            assert_eq!(digits(value), text);
        }
    }
}
