//! The names of stations, stages, coolers and turbines, fixed once per layout.

use crate::air_path::Part;

/// A place between two parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Station {
    /// Its name in every output.
    pub name: String,
    /// Where it lies.
    pub place: StationPlace,
}

/// Where a station lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StationPlace {
    /// Outside.
    Ambient,
    /// Ahead of the part with this index.
    Before(usize),
    /// Behind the part with this index.
    After(usize),
    /// In the manifold.
    Manifold,
    /// Ahead of the turbine with this index in exhaust order.
    TurbineInlet(usize),
    /// Behind the turbine with this index.
    TurbineOutlet(usize),
    /// Behind the engine, where there is no turbine.
    Exhaust,
}

/// The names of one layout in flow order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layout {
    /// Stations in flow order.
    pub stations: Vec<Station>,
    /// Name and part index of each stage in flow order.
    pub stages: Vec<(String, usize)>,
    /// Name and part index of each cooler in flow order.
    pub coolers: Vec<(String, usize)>,
    /// Names of the turbines in exhaust order.
    pub turbines: Vec<String>,
}

/// The exhaust side of a layout.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExhaustSide {
    /// Nothing is known of it.
    Unknown,
    /// A pipe and no turbine.
    Pipe,
    /// So many turbines.
    Turbines(usize),
}

impl Layout {
    /// Names everything of an air path and its exhaust side.
    pub fn new(air_path: &[Part], exhaust: ExhaustSide) -> Self {
        let mut layout = Self {
            stations: Vec::new(),
            stages: Vec::new(),
            coolers: Vec::new(),
            turbines: Vec::new(),
        };
        let (mut superchargers, mut compressors, mut coolers) = (0, 0, 0);
        layout.add("ambient", StationPlace::Ambient);
        for (part, kind) in air_path.iter().enumerate() {
            match kind {
                Part::Supercharger(_) => {
                    let name = numbered("supercharger", &mut superchargers);
                    layout.add_stage(&name, &name, part);
                }
                Part::TurboCompressor(_) => {
                    let stage = numbered("turbo compressor", &mut compressors);
                    let station = stage.replacen("turbo ", "", 1);
                    layout.add_stage(&stage, &station, part);
                }
                Part::Cooler(_) => {
                    let name = numbered("cooler", &mut coolers);
                    layout.add(&format!("{name} outlet"), StationPlace::After(part));
                    layout.coolers.push((name, part));
                }
                Part::Filter(_) | Part::Duct(_) | Part::Throttle(_) => {}
            }
        }
        layout.add("manifold", StationPlace::Manifold);
        layout.add_exhaust(exhaust);
        layout
    }

    fn add_exhaust(&mut self, exhaust: ExhaustSide) {
        match exhaust {
            ExhaustSide::Unknown => {}
            ExhaustSide::Pipe => self.add("exhaust", StationPlace::Exhaust),
            ExhaustSide::Turbines(count) => {
                let mut named = 0;
                for turbine in 0..count {
                    let name = numbered("turbine", &mut named);
                    self.add(
                        &format!("{name} inlet"),
                        StationPlace::TurbineInlet(turbine),
                    );
                    self.add(
                        &format!("{name} outlet"),
                        StationPlace::TurbineOutlet(turbine),
                    );
                    self.turbines.push(name);
                }
            }
        }
    }

    /// Number of the station at a place, where the layout has one.
    pub fn station_at(&self, place: StationPlace) -> Option<usize> {
        self.stations
            .iter()
            .position(|station| station.place == place)
    }

    fn add(&mut self, name: &str, place: StationPlace) {
        self.stations.push(Station {
            name: name.to_owned(),
            place,
        });
    }

    fn add_stage(&mut self, stage: &str, station: &str, part: usize) {
        self.add(&format!("{station} inlet"), StationPlace::Before(part));
        self.add(&format!("{station} outlet"), StationPlace::After(part));
        self.stages.push((stage.to_owned(), part));
    }
}

/// The first of a kind keeps the bare name, the next get a number.
fn numbered(word: &str, counted: &mut usize) -> String {
    *counted += 1;
    if *counted == 1 {
        word.to_owned()
    } else {
        format!("{word} {counted}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air_path::{CompressorPerformance, Cooler, RatedDrop, TurboCompressor};
    use crate::numeric::Schedule;

    fn turbo() -> Part {
        Part::TurboCompressor(TurboCompressor {
            performance: CompressorPerformance::Efficiency(Schedule::constant(0.7)),
            map: None,
            max_speed: None,
        })
    }

    fn cooler() -> Part {
        Part::Cooler(Cooler::fixed(
            Schedule::constant(0.7),
            RatedDrop::NONE,
            300.0,
        ))
    }

    #[test]
    fn the_second_of_a_kind_and_its_stations_carry_a_number() {
        let parts = [
            Part::Filter(RatedDrop::NONE),
            turbo(),
            cooler(),
            turbo(),
            cooler(),
        ];
        let layout = Layout::new(&parts, ExhaustSide::Turbines(2));
        let names: Vec<_> = layout
            .stations
            .iter()
            .map(|station| station.name.as_str())
            .collect();
        assert_eq!(
            names,
            [
                "ambient",
                "compressor inlet",
                "compressor outlet",
                "cooler outlet",
                "compressor 2 inlet",
                "compressor 2 outlet",
                "cooler 2 outlet",
                "manifold",
                "turbine inlet",
                "turbine outlet",
                "turbine 2 inlet",
                "turbine 2 outlet",
            ]
        );
        assert_eq!(layout.stages[1].0, "turbo compressor 2");
    }

    #[test]
    fn an_engine_that_breathes_alone_has_ambient_manifold_and_exhaust() {
        let layout = Layout::new(&[], ExhaustSide::Pipe);
        let names: Vec<_> = layout
            .stations
            .iter()
            .map(|station| station.name.as_str())
            .collect();
        assert_eq!(names, ["ambient", "manifold", "exhaust"]);
    }
}
