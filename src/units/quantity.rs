//! The shape that all quantity newtypes share.

/// Declares a quantity newtype over a decimal of base units, with sums and scaling.
///
/// Sums and products saturate instead of panicking: the limits checked at reading prove that no
/// real job comes near the largest decimal, and a saturated figure is refused before it is printed.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $make:ident, $read:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(rust_decimal::Decimal);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(rust_decimal::Decimal::ZERO);

            #[doc = concat!("From a number of ", $unit, ".")]
            pub const fn $make(number: rust_decimal::Decimal) -> Self {
                Self(number)
            }

            #[doc = concat!("As a number of ", $unit, ".")]
            pub const fn $read(self) -> rust_decimal::Decimal {
                self.0
            }

            /// Whether there is none of it.
            pub fn is_zero(self) -> bool {
                self.0.is_zero()
            }

            /// This quantity `n` times over.
            #[must_use]
            pub fn times(self, n: rust_decimal::Decimal) -> Self {
                Self(self.0.saturating_mul(n))
            }

            /// This quantity in `n` equal parts; nothing when `n` is zero.
            #[must_use]
            pub fn split(self, n: rust_decimal::Decimal) -> Self {
                Self(self.0.checked_div(n).unwrap_or_default())
            }

            /// How many times `other` goes into it; nothing when `other` is zero.
            pub fn ratio(self, other: Self) -> rust_decimal::Decimal {
                self.0.checked_div(other.0).unwrap_or_default()
            }

            /// This quantity tidied to the 15 significant digits that spreadsheets keep.
            #[must_use]
            pub fn tidy(self) -> Self {
                Self($crate::units::round::tidy15(self.0))
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0.saturating_add(other.0))
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0.saturating_sub(other.0))
            }
        }

        impl std::ops::AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                *self = *self + other;
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                parts.fold(Self::ZERO, |total, part| total + part)
            }
        }
    };
}

pub(crate) use quantity;
