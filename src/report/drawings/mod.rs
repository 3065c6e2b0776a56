//! The drawings of a line: what each shows and the words on it, from matches to `plot`'s layers.
//!
//! Each file is one drawing: a function from a [`Scene`] to a title and a list of layers. `heading`
//! draws layers under a title in the reader's units; `remark` chooses the finding that a drawing tells.

mod boost;
mod comparison;
mod cooler;
mod heading;
mod map;
mod map_title;
mod power;
mod rank;
mod remark;
mod scene;
mod split;
mod stations;
mod track;

pub use cooler::of_cooler;
pub use rank::of_rank;
pub use scene::Scene;

use crate::plot::PlotError;

/// The drawings of a line.
pub struct Drawn {
    /// File names and SVG texts.
    pub files: Vec<(String, String)>,
    /// Names of the lines compared with it that run on another map and are not drawn on this one.
    pub elsewhere: Vec<String>,
}

/// The drawings that a line has, compared with others where that helps.
pub fn of_line(scene: &Scene, others: &[Scene]) -> Result<Drawn, PlotError> {
    let (mut drawings, elsewhere) = map::draw(scene, others)?;
    for (name, drawing) in [
        ("stations.svg", stations::draw(scene)?),
        ("split.svg", split::draw(scene)?),
        ("boost.svg", boost::draw(scene)?),
        ("power.svg", power::draw(scene)?),
        ("beside.svg", comparison::draw(scene, others)?),
    ] {
        drawings.extend(drawing.map(|drawing| (name.to_owned(), drawing)));
    }
    let files = drawings.into_iter();
    let files = files.map(|(name, drawing)| (name, drawing.svg)).collect();
    Ok(Drawn { files, elsewhere })
}
