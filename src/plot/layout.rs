//! The drawing that explains the layout: boost by the supercharger alone, by the turbocharger
//! alone, and by both together.

use super::axis::Axis;
use super::curves::{Band, Curves, Event, Limit, Series};
use super::drawing::Drawing;
use super::error::PlotError;
use super::jumps::Jump;

/// Boost over engine speed, three times. A row without a value breaks its line.
#[derive(Debug, Clone)]
pub struct LayoutBoost<'a> {
    /// The finding.
    pub title: &'a str,
    /// What is drawn, in a few words.
    pub subtitle: &'a str,
    /// What to mind; may be empty.
    pub note: &'a str,
    /// Engine speed, rpm.
    pub speed: Axis<'a>,
    /// Boost at the manifold; the closure turns Pa into what the words say.
    pub boost: Axis<'a>,
    /// With the turbocharger taken out: rpm, Pa.
    pub supercharger_alone: Vec<(f64, Option<f64>)>,
    /// With the supercharger's rotors taken out: rpm, Pa.
    pub turbo_alone: Vec<(f64, Option<f64>)>,
    /// As built: rpm, Pa.
    pub together: Vec<(f64, Option<f64>)>,
    /// Where the boost as built jumps.
    pub jumps: Vec<Jump>,
    /// Hand-over, wastegate.
    pub events: Vec<Event>,
    /// The boost limit where there is one.
    pub limits: Vec<Limit>,
    /// How far the boost as built may lie off; may be empty.
    pub bands: Vec<Band>,
}

impl LayoutBoost<'_> {
    /// Draws it.
    pub fn draw(&self) -> Result<Drawing, PlotError> {
        let series = [
            ("together", &self.together, &self.jumps[..]),
            ("turbo alone", &self.turbo_alone, &[]),
            ("supercharger alone", &self.supercharger_alone, &[]),
        ];
        Curves {
            title: self.title,
            subtitle: self.subtitle,
            note: self.note,
            x: self.speed,
            y: self.boost,
            series: series
                .map(|(name, rows, jumps)| Series::with_jumps(name, rows.iter().copied(), jumps))
                .into(),
            events: self.events.clone(),
            limits: self.limits.clone(),
            bands: self.bands.clone(),
        }
        .draw()
    }
}
