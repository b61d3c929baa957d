//! Division of 64 bits in few instructions: quick for the small divisors that nearly all are, bit by bit for others.

use yarn_scale_core::math::over;

/// Quotient and remainder; a divisor of 0 gives any.
#[must_use]
pub fn divide(dividend: u64, divisor: u64) -> (u64, u64) {
    if divisor >> 16 == 0 {
        let quotient = over(dividend, divisor as u32);
        return (quotient, dividend.wrapping_sub(quotient.wrapping_mul(divisor)));
    }
    let (mut quotient, mut rest) = (dividend, 0);
    for _ in 0..u64::BITS {
        rest = rest << 1 | quotient >> 63;
        quotient <<= 1;
        if rest >= divisor {
            rest = rest.wrapping_sub(divisor);
            quotient |= 1;
        }
    }
    (quotient, rest)
}
