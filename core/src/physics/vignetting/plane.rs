//! Displacements in a plane across the lens axis.

use crate::square_root::length;
use core::ops::{Add, Mul, Neg, Sub};

/// A displacement in millimetres: x right, y up, seen from behind the camera.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vector {
    pub(super) x: f64,
    pub(super) y: f64,
}

impl Vector {
    pub(super) const ZERO: Self = Self { x: 0.0, y: 0.0 };

    /// The unit vector at an angle in radians, counter-clockwise from x.
    pub(super) fn at(angle: f64) -> Self {
        let (y, x) = libm::sincos(angle);
        Self { x, y }
    }

    pub(super) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Positive when `other` is to the left.
    pub(super) fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    pub(super) fn length(self) -> f64 {
        length(self.x, self.y)
    }

    /// In radians, −π to π, counter-clockwise from x.
    pub(super) fn angle(self) -> f64 {
        libm::atan2(self.y, self.x)
    }

    /// A quarter turn counter-clockwise.
    pub(super) fn turned_left(self) -> Self {
        Self {
            x: -self.y,
            y: self.x,
        }
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            x: self.x + other.x,
            y: self.y + other.y,
        }
    }
}

impl Sub for Vector {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self + -other
    }
}

impl Neg for Vector {
    type Output = Self;
    fn neg(self) -> Self {
        Self {
            x: -self.x,
            y: -self.y,
        }
    }
}

impl Mul<f64> for Vector {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self {
            x: self.x * by,
            y: self.y * by,
        }
    }
}
