//! Injectors that open for part of the time.

/// The injectors of an engine, in or ahead of its ports.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Injectors {
    /// How many.
    pub count: f64,
    /// Flow of one that stands open, kg/s, at its rated pressure.
    pub static_flow: f64,
    /// Pressure across it as it runs over that at which it was rated.
    pub pressure_ratio: f64,
}

impl Injectors {
    /// Flow in kg/s with all standing open: it goes with the root of the pressure across them
    /// (Bernoulli, any textbook of fluid mechanics).
    pub fn largest_flow(&self) -> f64 {
        self.count * self.static_flow * self.pressure_ratio.sqrt()
    }

    /// Share of the time that they stand open for a fuel flow in kg/s; above 1 they cannot.
    pub fn duty(&self, fuel_flow: f64) -> f64 {
        fuel_flow / self.largest_flow()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// By hand: four of 550 cm³/min at 3 bar with 0.745 kg/L pass 4 × 6.829 g/s; at 4 bar √(4/3) of
    /// it, 31.54 g/s; 20 g/s are 63.4 %.
    #[test]
    fn duty_follows_the_root_of_the_pressure() {
        let injectors = Injectors {
            count: 4.0,
            static_flow: 550e-6 / 60.0 * 745.0,
            pressure_ratio: 4.0 / 3.0,
        };
        assert_relative_eq!(injectors.duty(0.020), 0.634, max_relative = 1e-3);
    }
}
