//! The shape every plain quantity has.

/// Makes a newtype over one finite `f64`, checked on the way in.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $bounds:ident, $(#[$read_doc:meta])* $read:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        #[allow(dead_code, reason = "not every quantity is computed, nor a constant")]
        impl $name {
            /// # Errors
            ///
            /// [`OutOfRange`](crate::quantity::OutOfRange) outside the bounds of the quantity.
            pub fn new(value: f64) -> Result<Self, $crate::quantity::OutOfRange> {
                $crate::quantity::Bounds::$bounds.check(value).map(Self)
            }

            /// A value that is written down, for constants.
            ///
            /// # Panics
            ///
            /// Outside the bounds of the quantity; as a constant it does not
            /// compile.
            #[must_use]
            pub const fn constant(value: f64) -> Self {
                assert!($crate::quantity::Bounds::$bounds.holds(value), "out of range");
                Self(value)
            }

            /// What was computed of quantities in their ranges: at the very ends
            /// its own end stands for what goes beyond it.
            pub(crate) const fn computed(value: f64) -> Self {
                let bounds = $crate::quantity::Bounds::$bounds;
                debug_assert!(!value.is_nan());
                Self(value.max(bounds.min).min(bounds.max))
            }

            $(#[$read_doc])*
            #[must_use]
            pub const fn $read(self) -> f64 {
                self.0
            }
        }
    };
}

pub(super) use quantity;
