//! How rows are written down.

/// Any word as a text.
pub(super) fn text(word: impl Into<String>) -> String {
    word.into()
}

/// A list, where it has something in it.
pub(super) fn filled<U, L: AsRef<[U]>>(list: L) -> Option<L> {
    (!list.as_ref().is_empty()).then_some(list)
}

/// Writes rows:
///
/// ```text
/// Subject {
///     key = Kind "label" / "short\nlabel", "One sentence." |subject| its number;
///     key ? text "label", "One sentence." |subject| its text, where it has one;
/// }
/// ```
///
/// `=` stands before what every result has, `?` before what some have. In place of a `Kind`:
/// `range Kind`, `count`, `flag`, `text`, `texts`, and for subjects within: `one`, `many` (made),
/// `each` (borrowed), `flat` (their rows in place of this one).
macro_rules! fields {
    ($($of:ty { $($key:ident $mode:tt $what:ident $($kind:ident)?
        $label:literal $(/ $short:literal)?, $about:literal |$it:ident| $get:expr;)* })*) => { $(
        impl $crate::report::fields::field::Rows for $of {
            const ROWS: &'static [$crate::report::fields::field::Field<Self>] = &[ $(
                $crate::report::fields::field::Field {
                    key: stringify!($key),
                    label: $label,
                    short: fields!(@short $label $($short)?),
                    about: $about,
                    always: fields!(@always $mode),
                    get: fields!(@get $mode $what $($kind)?, |$it| $get),
                },
            )* ];
        }
    )* };
    (@short $label:literal) => { $label };
    (@short $label:literal $short:literal) => { $short };
    (@always =) => { true };
    (@always ?) => { false };
    (@get ? range $kind:ident, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Range($crate::quantity::Kind::$kind, |$it| $get)
    };
    (@get = count, |$it:ident| $get:expr) => { fields!(@get ? count, |$it| Some($get)) };
    (@get ? count, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Count(|$it| $get)
    };
    (@get = flag, |$it:ident| $get:expr) => { fields!(@get ? flag, |$it| Some($get)) };
    (@get ? flag, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Flag(|$it| $get)
    };
    (@get = text, |$it:ident| $get:expr) => { fields!(@get ? text, |$it| Some($get)) };
    (@get ? text, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Text(|$it| {
            ($get).map($crate::report::fields::rows::text)
        })
    };
    (@get = texts, |$it:ident| $get:expr) => { fields!(@get ? texts, |$it| Some($get)) };
    (@get ? texts, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Texts(|$it| $get)
    };
    (@get = one, |$it:ident| $get:expr) => { fields!(@get ? one, |$it| Some($get)) };
    (@get ? one, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Inner(
            &$crate::report::fields::inner::One::<Self, _>(|$it| $get),
        )
    };
    (@get = many, |$it:ident| $get:expr) => { fields!(@get ? many, |$it| Some($get)) };
    (@get ? many, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Inner(
            &$crate::report::fields::inner::Many::<Self, _>(|$it| $get),
        )
    };
    (@get = each, |$it:ident| $get:expr) => { fields!(@get ? each, |$it| Some($get)) };
    (@get ? each, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Inner(
            &$crate::report::fields::inner::Each::<Self, _>(|$it| $get),
        )
    };
    (@get = flat, |$it:ident| $get:expr) => { fields!(@get ? flat, |$it| Some($get)) };
    (@get ? flat, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Flat(
            &$crate::report::fields::inner::One::<Self, _>(|$it| $get),
        )
    };
    (@get = $kind:ident, |$it:ident| $get:expr) => { fields!(@get ? $kind, |$it| Some($get)) };
    (@get ? $kind:ident, |$it:ident| $get:expr) => {
        $crate::report::fields::field::Get::Number($crate::quantity::Kind::$kind, |$it| $get)
    };
}

/// Names rows of a subject as columns: `columns! { NAME of Subject: key, key; }` makes a constant
/// list of them. A key that no row has does not compile.
macro_rules! columns {
    ($($name:ident of $of:ty: $($key:ident),*;)*) => { $(
        const $name: [&$crate::report::fields::field::Field<$of>; [$(stringify!($key)),*].len()] =
            $crate::report::fields::field::pick(
                <$of as $crate::report::fields::field::Rows>::ROWS,
                [$(stringify!($key)),*],
            );
    )* };
}

pub(in crate::report) use columns;
pub(super) use fields;
