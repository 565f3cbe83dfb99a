//! Chance for the runs over any bytes.

/// A linear congruence with its upper bits (Knuth's MMIX constants): good enough to vary bytes, and
/// the same everywhere.
#[derive(Clone, Copy, Debug)]
pub struct Chance(pub u64);

impl Chance {
    /// The next number.
    pub fn draw(&mut self) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize
    }

    /// A number below this one; 0 of nothing.
    pub fn below(&mut self, most: usize) -> usize {
        self.draw() % most.max(1)
    }
}
