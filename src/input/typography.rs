//! What word processors, web pages and telephones make of a build: curly quotes, long dashes, blanks
//! of other widths.

use std::borrow::Cow;

/// Quotes that TOML does not know.
const QUOTES: [char; 10] = ['“', '”', '„', '‟', '‘', '’', '‚', '‛', '«', '»'];
/// Signs that look like a minus.
const DASHES: [char; 5] = ['−', '–', '—', '‐', '‑'];
/// Signs without width, which are no blanks to TOML and to no reader.
const UNSEEN: [char; 3] = ['\u{200b}', '\u{2060}', '\u{feff}'];

/// Text as it could be written, and what was wrong with it.
pub(super) struct Cure {
    pub what: &'static str,
    pub text: String,
}

/// A piece of a build with plain signs; `None` where it has no others.
pub(super) fn cure(text: &str) -> Option<Cure> {
    let what = if text.contains(QUOTES) {
        "has typographic quotes"
    } else if text.contains(DASHES) {
        "has a typographic minus sign"
    } else if text.contains(is_full_width) {
        "has full-width letters"
    } else {
        return None;
    };
    let plain = |letter: char| {
        if QUOTES.contains(&letter) {
            '"'
        } else if DASHES.contains(&letter) {
            '-'
        } else if is_full_width(letter) {
            char::from_u32(u32::from(letter) - 0xfee0).unwrap_or(letter)
        } else {
            letter
        }
    };
    Some(Cure {
        what,
        text: text.chars().map(plain).collect(),
    })
}

fn is_full_width(letter: char) -> bool {
    ('\u{ff01}'..='\u{ff5e}').contains(&letter)
}

/// Without typographic quotes around it.
pub(super) fn unquoted(text: &str) -> &str {
    text.trim().trim_matches(QUOTES)
}

/// Blanks of other widths outside quotes as plain ones, as many as they have bytes, so that every
/// place in the text stays where it is.
pub(super) fn plain_blanks(text: &str) -> Cow<'_, str> {
    let odd =
        |letter: char| !letter.is_ascii() && (letter.is_whitespace() || UNSEEN.contains(&letter));
    if !text.contains(odd) {
        return text.into();
    }
    let mut plain = String::with_capacity(text.len());
    let mut quote = None;
    for letter in text.chars() {
        match letter {
            '\n' => quote = None,
            '"' | '\'' if quote.is_none() => quote = Some(letter),
            _ if quote == Some(letter) => quote = None,
            _ => {}
        }
        if quote.is_none() && odd(letter) {
            plain.extend(std::iter::repeat_n(' ', letter.len_utf8()));
        } else {
            plain.push(letter);
        }
    }
    plain.into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn blanks_within_quotes_stay() {
        let text = "a\u{a0}= \"x\u{a0}y\"\u{a0}\n";
        assert_eq!(plain_blanks(text), "a  = \"x\u{a0}y\"  \n");
    }

    #[test]
    fn quotes_around_an_option_fall_away() {
        assert_eq!(unquoted("“4.5 L”"), "4.5 L");
        assert_eq!(unquoted("4.5 L"), "4.5 L");
    }

    proptest! {
        #[test]
        fn places_in_the_text_stay_where_they_are(text in "\\PC{0,40}") {
            prop_assert_eq!(plain_blanks(&text).len(), text.len());
        }
    }
}
