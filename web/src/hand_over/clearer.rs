//! A picture made easier to read: what a camera blurs, and codes too fine for
//! the reader as they are.

/// A picture in grey, row by row from the top.
#[derive(Debug, Clone)]
pub(super) struct Grey {
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) pixels: Vec<u8>,
}

impl Grey {
    /// Twice as many pixels each way, between their neighbours: the reader places
    /// the corners of a code on whole pixels, which is coarse where a module has
    /// only three.
    pub(super) fn doubled(&self) -> Self {
        let (columns, rows) = (2 * self.columns, 2 * self.rows);
        let mut pixels = Vec::with_capacity(columns * rows);
        for row in 0..rows {
            let (above, below) = self.neighbours(row);
            // Three quarters of the nearer, one of the farther.
            let across = |at: usize| 3 * u32::from(above[at]) + u32::from(below[at]);
            for column in 0..columns {
                let near = column / 2;
                let far = match column % 2 {
                    0 => near.saturating_sub(1),
                    _ => (near + 1).min(self.columns - 1),
                };
                pixels.push(byte((3 * across(near) + across(far)) / 16));
            }
        }
        Self {
            columns,
            rows,
            pixels,
        }
    }

    /// The rows that a doubled row lies between, the nearer first.
    fn neighbours(&self, row: usize) -> (&[u8], &[u8]) {
        let near = row / 2;
        let far = match row % 2 {
            0 => near.saturating_sub(1),
            _ => (near + 1).min(self.rows - 1),
        };
        (self.row(near), self.row(far))
    }

    fn row(&self, at: usize) -> &[u8] {
        &self.pixels[at * self.columns..(at + 1) * self.columns]
    }

    /// What lies above and left of each place, summed; differences of two are
    /// right although the sums of a large picture wrap.
    fn sums(&self) -> Vec<u32> {
        let wide = self.columns + 1;
        let mut sums = vec![0_u32; wide * (self.rows + 1)];
        for row in 0..self.rows {
            let mut along = 0_u32;
            for column in 0..self.columns {
                along = along.wrapping_add(u32::from(self.pixels[row * self.columns + column]));
                let at = (row + 1) * wide + column + 1;
                sums[at] = sums[at - wide].wrapping_add(along);
            }
        }
        sums
    }

    /// Edges drawn up again: a pixel moves away from the mean of its surroundings
    /// by as much as `times` it differs.
    pub(super) fn sharpened(&self, reach: usize, times: i32) -> Self {
        let sums = self.sums();
        let wide = self.columns + 1;
        let mut pixels = Vec::with_capacity(self.pixels.len());
        for row in 0..self.rows {
            let (top, bottom) = (row.saturating_sub(reach), (row + reach + 1).min(self.rows));
            for column in 0..self.columns {
                let left = column.saturating_sub(reach);
                let right = (column + reach + 1).min(self.columns);
                let corner = |x: usize, y: usize| sums[y * wide + x];
                let sum = corner(right, bottom)
                    .wrapping_add(corner(left, top))
                    .wrapping_sub(corner(left, bottom))
                    .wrapping_sub(corner(right, top));
                let count = u32::try_from((right - left) * (bottom - top)).unwrap_or(u32::MAX);
                let mean = i32::try_from(sum / count).unwrap_or(0);
                let here = i32::from(self.pixels[row * self.columns + column]);
                let sharp = (here + times * (here - mean)).clamp(0, 255);
                pixels.push(u8::try_from(sharp).unwrap_or(u8::MAX));
            }
        }
        Self { pixels, ..*self }
    }
}

fn byte(value: u32) -> u8 {
    u8::try_from(value).unwrap_or(u8::MAX)
}
