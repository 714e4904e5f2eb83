//! The shape every plain quantity has.

/// Makes a newtype over one finite `f64`, checked on the way in.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $bounds:ident, $(#[$read_doc:meta])* $read:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// # Errors
            ///
            /// [`OutOfRange`](crate::quantity::OutOfRange) outside the bounds of the quantity.
            pub fn new(value: f64) -> Result<Self, $crate::quantity::OutOfRange> {
                $crate::quantity::Bounds::$bounds.check(value).map(Self)
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
