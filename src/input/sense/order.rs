//! The order of the parts: what hardly stands where it was written.

use super::super::context::Context;
use super::view::AsWritten;

/// Remarks on parts that stand where they do little or harm.
pub(super) fn judge(context: &Context, view: &AsWritten<'_>) {
    let is_stage = |word: &str| matches!(word, "supercharger" | "turbo_compressor");
    let parts = view.parts();
    let first_stage = parts.iter().position(|part| is_stage(part.word));
    for (at, part) in parts.iter().enumerate() {
        let earlier = first_stage
            .filter(|stage| *stage < at)
            .map(|stage| &parts[stage]);
        let text = match (part.word, earlier) {
            ("cooler", None) => match first_stage {
                Some(_) => {
                    "comes before every stage: it cools ambient air that nothing has heated; did you mean \
                     it after the compressor?"
                        .to_owned()
                }
                None => "cools ambient air that nothing has heated: no stage is given".to_owned(),
            },
            ("filter", Some(stage)) => format!(
                "comes after the {}, which dust has reached by then; did you mean it first?",
                stage.word.replace('_', " ")
            ),
            _ => continue,
        };
        context.remark(&part.place, &format!("{}.part", part.path), text);
    }
}
