//! How wide words are, where they break, and what of them may be written at all.

/// Advance widths of the printable ASCII characters in thousandths of the type size, read from the
/// font DejaVu Sans (version 2.37). It is among the widest of the fonts that stand for
/// "sans-serif", so that a box made for it holds the others too.
const ASCII_WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318,
    337, // space to /
    636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, // 0 to ?
    1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787, // @ to O
    603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, // P to _
    500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, // ` to o
    635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838, // p to ~
];

/// Bold over plain width of running text in the same font (1.09 for digits, 1.26 at most).
const BOLD: f64 = 1.16;

/// Estimated width of one line of text, in the unit of `size`.
pub fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let thousandths: f64 = text.chars().map(character_width).sum();
    thousandths / 1000.0 * size * if bold { BOLD } else { 1.0 }
}

fn character_width(character: char) -> f64 {
    let code = u32::from(character);
    let ascii = usize::try_from(code.wrapping_sub(0x20))
        .ok()
        .and_then(|place| ASCII_WIDTHS.get(place));
    match (ascii, code) {
        (Some(&width), _) => f64::from(width),
        // Latin, Greek and Cyrillic letters with their signs: the width of a wide lower-case letter.
        (None, 0..0x0600) => 720.0,
        // Scripts of full-width signs, pictures.
        (None, _) => 1050.0,
    }
}

/// The text as one line that XML may hold: signs that XML forbids and those that turn the direction
/// of writing become the replacement sign U+FFFD, runs of white space one space. [`fit`] and [`wrap`]
/// start with it, and every word of a drawing comes from one of them; what XML reads as its own marks
/// (`<`, `&`) stays as it is here and is escaped where the SVG is written, and nowhere else.
pub(crate) fn clean(text: &str) -> String {
    let allowed = |character: char| match character {
        '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FFFE}' | '\u{FFFF}' => '\u{FFFD}',
        other if other.is_whitespace() => ' ',
        other if other.is_control() => '\u{FFFD}',
        other => other,
    };
    let signs: String = text.chars().map(allowed).collect();
    signs.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text cut to a width, with an ellipsis where something is missing.
pub(crate) fn fit(text: &str, size: f64, bold: bool, width: f64) -> String {
    let text = clean(text);
    if text_width(&text, size, bold) <= width {
        return text;
    }
    let mut short = String::new();
    for character in text.chars() {
        short.push(character);
        if text_width(&format!("{short}…"), size, bold) > width {
            short.pop();
            break;
        }
    }
    format!("{}…", short.trim_end())
}

/// The text in lines no wider than `width`, of about equal length; what does not fit into `most`
/// lines ends in an ellipsis.
pub(crate) fn wrap(text: &str, size: f64, bold: bool, width: f64, most: usize) -> Vec<String> {
    // A title needs a few hundred signs at most; the rest would never be shown.
    let text: String = clean(text).chars().take(400).collect();
    let mut best = fill(&text, size, bold, width, most);
    if best.len() > 1 {
        for narrower in (10..20).rev().map(|part| width * f64::from(part) / 20.0) {
            let lines = fill(&text, size, bold, narrower, most);
            if lines.len() > best.len() || lines.iter().any(|line| line.ends_with('…')) {
                break;
            }
            best = lines;
        }
    }
    best
}

/// The text's words; a number stays with the unit behind it.
fn glued(text: &str) -> Vec<String> {
    let is_number = |word: &str| {
        word.chars()
            .all(|sign| sign.is_ascii_digit() || ",.".contains(sign))
    };
    let mut words: Vec<String> = Vec::new();
    let mut number = false;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match words.last_mut() {
            Some(last) if number && word.chars().count() <= 5 => {
                last.push(' ');
                last.push_str(word);
                number = false;
            }
            _ => {
                number = is_number(word);
                words.push(word.to_owned());
            }
        }
    }
    words
}

/// The text in lines as full as they get.
fn fill(text: &str, size: f64, bold: bool, width: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let words = glued(text);
    let mut words = words.iter().map(String::as_str).peekable();
    while words.peek().is_some() && lines.len() < most {
        let last = lines.len() + 1 == most;
        let mut line = String::new();
        while let Some(word) = words.peek() {
            let longer = if line.is_empty() {
                (*word).to_owned()
            } else {
                format!("{line} {word}")
            };
            if !line.is_empty() && !last && text_width(&longer, size, bold) > width {
                break;
            }
            line = longer;
            words.next();
        }
        lines.push(fit(&line, size, bold, width));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn width_counts_characters_and_not_bytes() {
        assert!(text_width("°²η", 10.0, false) < 3.0 * 7.5);
        assert!((text_width("00", 10.0, false) - 12.72).abs() < 1e-9);
    }

    #[test]
    fn no_line_is_wider_than_asked_and_the_cut_is_shown() {
        let text = "stays left of choke up to 3,200 rpm and right of surge by sixteen per cent";
        let lines = wrap(text, 20.0, true, 250.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(
            lines
                .iter()
                .all(|line| text_width(line, 20.0, true) <= 250.0)
        );
        assert!(lines[1].ends_with('…'));
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        let width = text_width("margin 12 % at 2,200 r", 20.0, false);
        let lines = wrap("margin 12 % at 2,200 rpm", 20.0, false, width, 3);
        assert_eq!(lines, ["margin 12 %", "at 2,200 rpm"]);
    }

    #[test]
    fn one_endless_word_is_cut() {
        let lines = wrap(&"x".repeat(5000), 20.0, false, 250.0, 3);
        assert_eq!(lines.len(), 1);
        assert!(text_width(&lines[0], 20.0, false) <= 250.0);
    }

    #[test]
    fn signs_that_xml_forbids_are_replaced() {
        assert_eq!(
            clean("a\u{0}b\u{1b}[31m\n c\u{202e}"),
            "a\u{FFFD}b\u{FFFD}[31m c\u{FFFD}"
        );
    }
}
