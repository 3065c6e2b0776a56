//! Where in a value as written the number ends and the unit begins.

/// The number at the start, and what follows it. Underscores between digits belong to the number,
/// as in TOML; so does a comma, to be refused with the right words.
pub(super) fn split(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let mut end = sign_length(text);
    while end < bytes.len()
        && (bytes[end].is_ascii_digit() || matches!(bytes[end], b'.' | b',' | b'_'))
    {
        end += 1;
    }
    // An exponent, but not the e of a unit: at least one digit has to follow.
    if end < bytes.len() && matches!(bytes[end], b'e' | b'E') {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let digits = bytes[end + 1 + sign..]
            .iter()
            .take_while(|byte| byte.is_ascii_digit())
            .count();
        if digits > 0 {
            end += 1 + sign + digits;
        }
    }
    (&text[..end], text[end..].trim())
}

fn sign_length(text: &str) -> usize {
    match text.chars().next() {
        Some(sign @ ('+' | '-' | '−' | '–')) => sign.len_utf8(),
        _ => 0,
    }
}
