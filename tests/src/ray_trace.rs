//! A plain ray tracer for lenses: what `traced_lenses.json` was made with,
//! written anew.
//!
//! Skew rays through spheres and aspheres by Snell's law in vectors; no coatings,
//! no rims but the stop's. A lens stands with its first vertex at z = 0, light goes to +z.

use serde_json::Value;

/// One refracting sphere, asphere or the flat stop.
#[derive(Debug, Clone)]
struct Surface {
    /// Nothing is flat.
    curvature: f64,
    /// Where its vertex stands.
    vertex: f64,
    /// Refractive index behind it.
    behind: f64,
    /// What makes it no sphere.
    asphere: Option<Asphere>,
}

/// The sag c·r²/(1 + √(1 − (1 + k)·c²·r²)) + Σ a·rⁿ.
#[derive(Debug, Clone)]
struct Asphere {
    /// k.
    conic: f64,
    /// n and a.
    terms: Vec<(i32, f64)>,
}

/// A lens to trace.
#[derive(Debug, Clone)]
pub struct Lens {
    surfaces: Vec<Surface>,
    stop: usize,
    /// In millimetres.
    pub focal_length: f64,
    /// Entrance pupil behind the first vertex, paraxial.
    pub pupil: f64,
    image: f64,
    /// Height at the stop of a paraxial ray that comes in parallel at height 1.
    stop_height: f64,
}

/// A ray: where it is and where it goes, of unit length.
type Ray = ([f64; 3], [f64; 3]);

/// The light towards one picture point, where it crosses the first vertex's plane.
#[derive(Debug, Clone)]
pub struct Bundle {
    /// Of the chief ray.
    pub tangent: f64,
    /// Its height.
    pub chief: f64,
    /// The edge from its lowest to its highest point, right and up.
    pub edge: Vec<(f64, f64)>,
}

/// Azimuths in the stop's rim, in degrees, at which the edge is listed.
const AZIMUTHS: [f64; 7] = [-90.0, -60.0, -30.0, 0.0, 30.0, 60.0, 90.0];

impl Lens {
    /// A lens of `prescriptions.json`, scaled to its focal length.
    ///
    /// # Panics
    ///
    /// On another shape of file.
    #[must_use]
    pub fn of(given: &Value) -> Self {
        let wanted = given["focalLengthMm"].as_f64().unwrap();
        Self::times(given, wanted / Self::as_published(given).focal_length)
    }

    /// The same in the units of its source.
    ///
    /// # Panics
    ///
    /// On another shape of file.
    #[must_use]
    pub fn as_published(given: &Value) -> Self {
        Self::times(given, 1.0)
    }

    fn times(given: &Value, scale: f64) -> Self {
        let rows: Vec<[f64; 3]> = (given["surfaces"].as_array().unwrap().iter())
            .map(|row| [0, 1, 2].map(|at| row[at].as_f64().unwrap()))
            .collect();
        let aspheres: Vec<(usize, Asphere)> = (given["aspheres"].as_array().into_iter().flatten())
            .map(Asphere::of)
            .collect();
        let stop = usize::try_from(given["stop"].as_u64().unwrap()).unwrap();
        Self::scaled(&rows, &aspheres, stop, scale)
    }

    fn scaled(rows: &[[f64; 3]], aspheres: &[(usize, Asphere)], stop: usize, scale: f64) -> Self {
        let mut vertex = 0.0;
        let surfaces = (rows.iter().enumerate())
            .map(|(at, &[radius, to_next, behind])| {
                let asphere = aspheres.iter().find(|(surface, _)| *surface == at);
                let surface = Surface {
                    curvature: if radius == 0.0 {
                        0.0
                    } else {
                        1.0 / (radius * scale)
                    },
                    vertex,
                    behind,
                    asphere: asphere.map(|(_, asphere)| asphere.scaled(scale)),
                };
                vertex += to_next * scale;
                surface
            })
            .collect();
        let mut lens = Self {
            surfaces,
            stop,
            focal_length: 0.0,
            pupil: 0.0,
            image: 0.0,
            stop_height: 0.0,
        };
        let (height, slope) = lens.paraxial((1.0, 0.0), lens.surfaces.len());
        let last = lens.surfaces[lens.surfaces.len() - 1].vertex;
        lens.focal_length = -1.0 / slope;
        lens.image = last - height / slope;
        lens.stop_height = lens.paraxial((1.0, 0.0), stop).0;
        // A ray from the first vertex: where it must start instead to meet the
        // middle of the stop.
        lens.pupil = lens.paraxial((0.0, 1.0), stop).0 / lens.stop_height;
        lens
    }

    /// Height and slope of a paraxial ray at the vertex of a surface, before it
    /// refracts there; behind all of them for their number.
    fn paraxial(&self, (mut height, mut slope): (f64, f64), at: usize) -> (f64, f64) {
        let mut before = 1.0;
        for (nth, surface) in self.surfaces.iter().enumerate() {
            if nth == at {
                break;
            }
            let power = (surface.behind - before) * surface.curvature;
            slope = (before * slope - height * power) / surface.behind;
            before = surface.behind;
            if let Some(next) = self.surfaces.get(nth + 1) {
                height += slope * (next.vertex - surface.vertex);
            }
        }
        (height, slope)
    }

    /// The ray where it meets a surface, before it refracts there; behind the
    /// last one for their number.
    fn trace(&self, (mut place, mut towards): Ray, at: usize) -> Option<Ray> {
        let mut before = 1.0;
        for (nth, surface) in self.surfaces.iter().enumerate() {
            place = surface.met(place, towards)?;
            if nth == at {
                return Some((place, towards));
            }
            towards = surface.refracted(place, towards, before)?;
            before = surface.behind;
        }
        Some((place, towards))
    }

    /// A ray from far away, downwards by the tangent, through a point of the
    /// first vertex's plane.
    fn incoming(tangent: f64, (right, up): (f64, f64)) -> Ray {
        let length = tangent.hypot(1.0);
        ([right, up, 0.0], [0.0, -tangent / length, 1.0 / length])
    }

    /// Where such a ray meets the stop.
    fn at_stop(&self, tangent: f64, from: (f64, f64)) -> Option<(f64, f64)> {
        let ([right, up, _], _) = self.trace(Self::incoming(tangent, from), self.stop)?;
        Some((right, up))
    }

    /// The point of the vertex plane from which it meets this point of the stop,
    /// by Newton's method from a guess.
    fn aimed(&self, tangent: f64, guess: (f64, f64), wanted: (f64, f64)) -> Option<(f64, f64)> {
        let mut from = guess;
        for _ in 0..60 {
            let met = self.at_stop(tangent, from)?;
            let off = (met.0 - wanted.0, met.1 - wanted.1);
            if off.0.hypot(off.1) < 1e-10 {
                return Some(from);
            }
            const STEP: f64 = 1e-6;
            let by_right = self.at_stop(tangent, (from.0 + STEP, from.1))?;
            let by_up = self.at_stop(tangent, (from.0, from.1 + STEP))?;
            let slope = |to: (f64, f64)| ((to.0 - met.0) / STEP, (to.1 - met.1) / STEP);
            let ((a, c), (b, d)) = (slope(by_right), slope(by_up));
            let whole = a * d - b * c;
            from.0 -= (d * off.0 - b * off.1) / whole;
            from.1 -= (a * off.1 - c * off.0) / whole;
        }
        None
    }

    /// The chief ray's height at the vertex plane and at the image.
    fn chief(&self, tangent: f64) -> Option<(f64, f64)> {
        // Step by step from the axis, where the paraxial pupil is right.
        let mut up = 0.0;
        for step in 1..=16 {
            let here = tangent * f64::from(step) / 16.0;
            let guess = up + (tangent / 16.0) * self.pupil;
            up = self.aimed(here, (0.0, guess), (0.0, 0.0))?.1;
        }
        let (place, towards) =
            self.trace(Self::incoming(tangent, (0.0, up)), self.surfaces.len())?;
        let way = (self.image - place[2]) / towards[2];
        Some((up, place[1] + way * towards[1]))
    }

    /// The light towards an image height at an f-number.
    #[must_use]
    pub fn bundle(&self, height: f64, f_number: f64) -> Option<Bundle> {
        let (mut low, mut high) = (0.0, 2.0 * height / self.focal_length);
        while self.chief(high).is_none() {
            high *= 0.9;
        }
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            // Downwards in: the image lies below.
            if -self.chief(middle)?.1 < height {
                low = middle;
            } else {
                high = middle;
            }
        }
        let tangent = f64::midpoint(low, high);
        let (chief, _) = self.chief(tangent)?;
        // The stop is as wide as the ray of the f-number on the axis meets it.
        let on_axis = self.focal_length / f_number / 2.0;
        let radius = self.at_stop(0.0, (0.0, on_axis))?.1.abs();
        let edge = AZIMUTHS.map(|azimuth| {
            let (sin, cos) = azimuth.to_radians().sin_cos();
            let on_rim = |share: f64, from| {
                let r = radius * share;
                let (right, up) = self.aimed(tangent, from, (r * cos, r * sin))?;
                // It must come out behind the lens too.
                self.trace(Self::incoming(tangent, (right, up)), self.surfaces.len())?;
                Some((right, up))
            };
            let mut from = (0.0, chief);
            let (mut share, mut step): (f64, f64) = (0.0, 1.0 / 16.0);
            while share < 1.0 && step > 1e-5 {
                match on_rim((share + step).min(1.0), from) {
                    Some(next) => {
                        (share, from) = ((share + step).min(1.0), next);
                    }
                    // Rays that fail inside the lens end the edge.
                    None => step /= 2.0,
                }
            }
            from
        });
        Some(Bundle {
            tangent,
            chief,
            edge: edge.to_vec(),
        })
    }
}

impl Asphere {
    fn of(given: &Value) -> (usize, Self) {
        let surface = usize::try_from(given["surface"].as_u64().unwrap()).unwrap();
        let terms = (given["terms"].as_array().unwrap().iter())
            .map(|term| {
                let power = i32::try_from(term[0].as_i64().unwrap()).unwrap();
                (power, term[1].as_f64().unwrap())
            })
            .collect();
        let conic = given["conic"].as_f64().unwrap();
        (surface, Self { conic, terms })
    }

    fn scaled(&self, by: f64) -> Self {
        let scaled = |&(power, term): &(i32, f64)| (power, term * by.powi(1 - power));
        Self {
            conic: self.conic,
            terms: self.terms.iter().map(scaled).collect(),
        }
    }

    /// Sag and slope at a height; `None` beyond its edge.
    fn sag(&self, curvature: f64, height: f64) -> Option<(f64, f64)> {
        let bent = curvature * height;
        let under = 1.0 - (1.0 + self.conic) * bent * bent;
        if under <= 0.0 {
            return None;
        }
        let root = under.sqrt();
        let start = (bent * height / (1.0 + root), bent / root);
        let add = |(sag, slope): (f64, f64), &(power, term): &(i32, f64)| {
            let below = term * height.powi(power - 1);
            (sag + below * height, slope + f64::from(power) * below)
        };
        Some(self.terms.iter().fold(start, add))
    }
}

impl Surface {
    /// Where a ray meets an asphere, by Newton's method from its vertex plane.
    fn met_asphere(&self, asphere: &Asphere, place: [f64; 3], to: [f64; 3]) -> Option<[f64; 3]> {
        let mut way = (self.vertex - place[2]) / to[2];
        for _ in 0..100 {
            let here = [0, 1, 2].map(|at| place[at] + way * to[at]);
            let height = here[0].hypot(here[1]);
            let (sag, slope) = asphere.sag(self.curvature, height)?;
            let off = here[2] - self.vertex - sag;
            if off.abs() < 1e-12 {
                return Some(here);
            }
            let outwards = if height > 0.0 {
                (here[0] * to[0] + here[1] * to[1]) / height
            } else {
                0.0
            };
            way -= off / (to[2] - slope * outwards);
        }
        None
    }

    /// Across the surface where it is met, of unit length.
    fn normal(&self, place: [f64; 3]) -> Option<[f64; 3]> {
        let Some(asphere) = &self.asphere else {
            let flat = self.curvature * (place[2] - self.vertex);
            let [x, y] = [0, 1].map(|at| -self.curvature * place[at]);
            return Some([x, y, 1.0 - flat]);
        };
        let height = place[0].hypot(place[1]);
        let (_, slope) = asphere.sag(self.curvature, height)?;
        let length = slope.hypot(1.0);
        let out = |at: usize| {
            let share = if height > 0.0 {
                place[at] / height
            } else {
                0.0
            };
            -slope * share / length
        };
        Some([out(0), out(1), 1.0 / length])
    }

    /// Where a ray meets it; `None` where it passes it by.
    fn met(&self, place: [f64; 3], towards: [f64; 3]) -> Option<[f64; 3]> {
        if let Some(asphere) = &self.asphere {
            return self.met_asphere(asphere, place, towards);
        }
        let way = (self.vertex - place[2]) / towards[2];
        let on = [0, 1].map(|at| place[at] + way * towards[at]);
        // From the vertex plane on: c·s² − 2·b·s + c·r² = 0.
        let b = towards[2] - self.curvature * (on[0] * towards[0] + on[1] * towards[1]);
        let c = self.curvature * (on[0] * on[0] + on[1] * on[1]);
        let under = b * b - self.curvature * c;
        if under < 0.0 {
            return None;
        }
        let s = c / (b + under.sqrt());
        Some([
            on[0] + s * towards[0],
            on[1] + s * towards[1],
            self.vertex + s * towards[2],
        ])
    }

    /// The direction behind it; `None` where all is reflected.
    fn refracted(&self, place: [f64; 3], towards: [f64; 3], before: f64) -> Option<[f64; 3]> {
        let normal = self.normal(place)?;
        let ratio = before / self.behind;
        let cosine: f64 = (0..3).map(|at| normal[at] * towards[at]).sum();
        let under = 1.0 - ratio * ratio * (1.0 - cosine * cosine);
        if under < 0.0 {
            return None;
        }
        let along = under.sqrt() - ratio * cosine;
        Some([0, 1, 2].map(|at| ratio * towards[at] + along * normal[at]))
    }
}
