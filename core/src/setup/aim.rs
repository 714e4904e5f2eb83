//! Where the camera points, and how it is rolled.

use crate::quantity::{Angle, Direction, Elevation};

/// The camera's own axes in the open: right, up and forward.
///
/// # Units
///
/// Roll in degrees, positive when the camera leans clockwise seen from behind.
/// Straight up and down the azimuth still says which way the frame stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    right: Direction,
    up: Direction,
    forward: Direction,
}

impl Aim {
    /// A camera that points there.
    #[must_use]
    pub fn new(azimuth: Angle, elevation: Elevation, roll: Angle) -> Self {
        let (azimuth, elevation) = (azimuth.degrees(), elevation.degrees());
        let ahead = Direction::level(azimuth);
        let right = Direction::level(azimuth + 90.0);
        let up = Direction::UP.turned_towards(ahead, -elevation);
        Self {
            right: right.turned_towards(up, -roll.degrees()),
            up: up.turned_towards(right, roll.degrees()),
            forward: ahead.turned_towards(Direction::UP, elevation),
        }
    }

    /// Along the lens axis.
    #[must_use]
    pub const fn forward(self) -> Direction {
        self.forward
    }

    /// The direction in the plane across the lens axis that lies so many
    /// degrees clockwise from camera up, seen from behind.
    #[must_use]
    pub fn across_axis(self, clockwise: f64) -> Direction {
        self.up.turned_towards(self.right, clockwise)
    }

    /// The direction of a field point.
    ///
    /// # Units
    ///
    /// Tangents of the field angle to the right and up: s·x/f and y/f of the
    /// upright frame, s being the squeeze. Not finite gives the lens axis.
    #[must_use]
    pub fn ray(self, right: f64, up: f64) -> Direction {
        let [along_right, along_up, forward] =
            [self.right, self.up, self.forward].map(Direction::vector);
        let part = |at: usize| right * along_right[at] + up * along_up[at] + forward[at];
        Direction::from_vector([part(0), part(1), part(2)]).unwrap_or(self.forward)
    }

    /// A direction in camera terms: parts right, up and forward.
    #[must_use]
    pub fn seen(self, direction: Direction) -> [f64; 3] {
        [self.right, self.up, self.forward].map(|axis| axis.cosine_to(direction))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aim, Angle, Elevation};

    fn aim(azimuth: f64, elevation: f64, roll: f64) -> Aim {
        Aim::new(
            Angle::new(azimuth).unwrap(),
            Elevation::new(elevation).unwrap(),
            Angle::new(roll).unwrap(),
        )
    }

    #[test]
    fn a_camera_facing_north_has_east_on_its_right() {
        let ray = aim(0.0, 0.0, 0.0).ray(1.0, 0.0);
        assert!((ray.azimuth_degrees() - 45.0).abs() < 1e-12);
        assert!(ray.elevation_degrees().abs() < 1e-12);
    }

    #[test]
    fn a_camera_rolled_clockwise_has_its_top_to_the_right() {
        let top = aim(0.0, 0.0, 90.0).across_axis(0.0);
        assert!((top.azimuth_degrees() - 90.0).abs() < 1e-12);
    }

    #[test]
    fn straight_up_the_azimuth_still_orders_the_frame() {
        let top = aim(180.0, 90.0, 0.0).across_axis(0.0);
        assert!(top.azimuth_degrees() < 1e-6 || top.azimuth_degrees() > 360.0 - 1e-6);
    }

    #[test]
    fn a_ray_is_seen_where_it_was_sent() {
        let camera = aim(123.0, -20.0, 7.0);
        let [right, up, forward] = camera.seen(camera.ray(0.4, -0.2));
        assert!((right / forward - 0.4).abs() < 1e-14);
        assert!((up / forward + 0.2).abs() < 1e-14);
    }
}
