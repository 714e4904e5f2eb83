//! Where a function changes sign, and where a hill has its top.

/// Halvings after which an interval no longer shrinks in f64.
const HALVINGS: usize = 200;

/// The point of `low..=high` where `f` changes sign.
///
/// False position whose lagging end is halved (the Illinois rule), with a plain
/// halving every third step, so that it ends whatever `f` is like and soon where
/// `f` is smooth. The signs at both ends must differ; otherwise the end nearer
/// to zero comes back.
///
/// # Source
///
/// M. Dowell and P. Jarratt, A modified regula falsi method, BIT 11 (1971).
pub(crate) fn sign_change(f: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low * at_high > 0.0 {
        return if libm::fabs(at_low) < libm::fabs(at_high) {
            low
        } else {
            high
        };
    }
    let mut raised = None;
    for step in 1..=HALVINGS {
        if at_low == 0.0 {
            return low;
        }
        if at_high == 0.0 {
            return high;
        }
        let halfway = low + (high - low) / 2.0;
        let guess = low - at_low * (high - low) / (at_high - at_low);
        let inside = guess > low && guess < high;
        let middle = if step % 3 != 0 && inside {
            guess
        } else {
            halfway
        };
        if middle <= low || middle >= high {
            break;
        }
        let at_middle = f(middle);
        if at_middle == 0.0 {
            return middle;
        }
        let raises = (at_middle > 0.0) == (at_low > 0.0);
        if raises {
            (low, at_low) = (middle, at_middle);
            at_high *= if raised == Some(true) { 0.5 } else { 1.0 };
        } else {
            (high, at_high) = (middle, at_middle);
            at_low *= if raised == Some(false) { 0.5 } else { 1.0 };
        }
        raised = Some(raises);
    }
    low + (high - low) / 2.0
}

/// The point of `low..=high` where the concave `f` is highest.
///
/// Golden sections, which keep one of two inner points. The top of a smooth
/// hill is found to about 10⁻⁸ of its place and far better in height.
pub(crate) fn top(f: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    /// (√5 − 1)/2
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let (mut low, mut high) = (low, high);
    let (mut left, mut right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (mut at_left, mut at_right) = (f(left), f(right));
    for _ in 0..80 {
        if at_left > at_right {
            high = right;
            (right, at_right) = (left, at_left);
            left = high - GOLDEN * (high - low);
            at_left = f(left);
        } else {
            low = left;
            (left, at_left) = (right, at_right);
            right = low + GOLDEN * (high - low);
            at_right = f(right);
        }
    }
    // A hill whose top is an end of the interval is higher there than inside.
    let middle = low + (high - low) / 2.0;
    [low, high].into_iter().fold(
        middle,
        |best, end| if f(end) > f(best) { end } else { best },
    )
}

#[cfg(test)]
mod tests {
    use super::{sign_change, top};
    use alloc::vec::Vec;

    #[test]
    fn the_square_root_of_two() {
        let root = sign_change(|x| x * x - 2.0, 0.0, 2.0);
        assert!((root - core::f64::consts::SQRT_2).abs() < 1e-15);
    }

    #[test]
    fn a_flat_root_and_a_root_at_an_end() {
        assert!(sign_change(|x| x * x * x, -1.0, 2.0).abs() < 1e-5);
        assert_eq!(sign_change(|x| x - 1.0, 1.0, 2.0), 1.0);
        assert_eq!(sign_change(|x| x - 2.0, 1.0, 2.0), 2.0);
    }

    #[test]
    fn a_hill_has_its_top_inside_or_at_an_end() {
        assert!((top(|x| -(x - 0.3) * (x - 0.3), 0.0, 1.0) - 0.3).abs() < 1e-7);
        assert!((top(|x| x, 0.0, 1.0) - 1.0).abs() < 1e-12);
        assert!(top(|x| -x, 0.0, 1.0).abs() < 1e-12);
    }

    /// What `find` gives for `f`, and how often it looks.
    fn counted(find: impl Fn(&dyn Fn(f64) -> f64) -> f64, f: impl Fn(f64) -> f64) -> (f64, usize) {
        let looks = core::cell::Cell::new(0);
        let found = find(&|x| {
            looks.set(looks.get() + 1);
            f(x)
        });
        (found, looks.get())
    }

    #[test]
    fn a_smooth_root_is_found_soon() {
        // Halving alone takes some 55 looks; what the rule takes was counted here.
        let root = |f: fn(f64) -> f64, low, high| counted(|f| sign_change(f, low, high), f);
        let (found, looks) = root(|x| x * x - 2.0, 0.0, 2.0);
        assert!((found - core::f64::consts::SQRT_2).abs() < 1e-15);
        assert!(looks <= 21, "{looks}");
        let (found, looks) = root(|x| libm::exp(x) - 3.0, -4.0, 5.0);
        assert!((found - 3_f64.ln()).abs() < 1e-14);
        assert!(looks <= 31, "{looks}");
        let (found, looks) = root(|x| 3.0 - libm::exp(-x), -5.0, 4.0);
        assert!((found + 3_f64.ln()).abs() < 1e-14);
        assert!(looks <= 31, "{looks}");
    }

    #[test]
    fn a_step_is_closed_in_on_from_both_sides() {
        // No slope helps: every third look halves, and it ends by itself.
        for place in [1.0 / 3.0, 1e-3, 0.9] {
            let step = |x: f64| if x < place { -1e9 } else { 1e-9 };
            let (found, looks) = counted(|f| sign_change(f, 0.0, 1.0), step);
            assert!((found - place).abs() < 1e-15, "{found}");
            assert!(looks < 190, "{looks}");
        }
    }

    #[test]
    fn without_a_change_of_sign_the_end_nearer_to_zero_comes_back() {
        assert_eq!(sign_change(|x| x + 1.0, 0.0, 1.0), 0.0);
        assert_eq!(sign_change(|x| 2.0 - x, 0.0, 1.0), 1.0);
        assert_eq!(sign_change(|x| -1.0 - x, 0.0, 1.0), 0.0);
        assert_eq!(sign_change(|x| x - 2.0, 0.0, 1.0), 1.0);
    }

    #[test]
    fn a_hill_is_looked_at_inside_only_and_its_end_taken_exactly() {
        assert_eq!(top(|x| x, 2.0, 3.0), 3.0);
        assert_eq!(top(|x| -x, 0.0, 1.0), 0.0);
        let hill = |x: f64| {
            assert!((2.0..=3.0).contains(&x), "{x}");
            -(x - 2.7) * (x - 2.7)
        };
        // Two to begin with, one a section, and the ends against the best.
        let (found, looks) = counted(|f| top(f, 2.0, 3.0), hill);
        assert!((found - 2.7).abs() < 1e-7);
        assert!(looks <= 86, "{looks}");
    }

    #[test]
    fn of_ends_alike_the_upper_comes_back_and_of_two_zeros_the_lower() {
        assert_eq!(sign_change(|_| 1.0, 1.0, 2.0), 2.0);
        assert_eq!(sign_change(|_| 0.0, 1.0, 2.0), 1.0);
    }

    #[test]
    fn a_root_beside_a_flat_stretch_is_soon_near_from_either_side() {
        // x⁵ is flat at 0. Twelve looks come within 10⁻⁶, counted here; an end
        // that lags and is not halved costs eight more.
        for side in [1.0, -1.0] {
            let root = side * libm::pow(0.1, 0.2);
            let looks = core::cell::RefCell::new(Vec::new());
            let fifth = |x: f64| {
                looks.borrow_mut().push(x);
                side * x * x * x * x * x - 0.1
            };
            let found = sign_change(fifth, side.min(0.0) * 2.0, side.max(0.0) * 2.0);
            assert!((found - root).abs() < 1e-14);
            let looks = looks.into_inner();
            let near = looks.iter().position(|x| (x - root).abs() < 1e-6);
            assert!(near.is_some_and(|before| before <= 12), "{near:?}");
        }
    }
}
