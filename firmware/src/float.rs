//! Sum and product of IEEE 754 single precision numbers as they mostly are: neither zero nor subnormal, neither huge nor infinite.
//!
//! Where there is no floating point, a fifth of a sample's time goes into these two. The compiler's library is written for all
//! widths at once, with long products and leading zeros that are calls on a Cortex-M0+; here they take half as long, and what is
//! unusual is left to the library. Numbers come and go as their bits, so that any machine can compare with its own.

/// `a + b`, rounded to nearest, ties to even; `None` if that is to be asked of somebody else.
#[must_use]
#[inline(always)]
pub fn sum(a: u32, b: u32) -> Option<u32> {
    // The larger first.
    let (a, b) = if a << 1 < b << 1 { (b, a) } else { (a, b) };
    let power = exponent(a);
    // So large that whatever is left after cancelling is still a normal number, and not so large that a carry could overflow.
    if power.wrapping_sub(LEAST_OF_A_SUM) > 253 - LEAST_OF_A_SUM {
        return None;
    }
    let apart = power.wrapping_sub(exponent(b));
    if apart > 25 {
        // Zero and what is subnormal, too.
        return Some(a);
    }
    // One bit of room above for a carry, seven below for what is rounded away; the last stands for all that is lost below it.
    let high = (a << 8 | FIRST) >> 1;
    let low = (b << 8 | FIRST) >> 1;
    let kept = low >> apart;
    let low = kept | u32::from(kept << apart != low);
    if (a ^ b) >> 31 == 0 {
        let sum = high.wrapping_add(low);
        return Some(if sum & FIRST == 0 {
            rounded(a, power, sum << 1)
        } else {
            rounded(a, power.wrapping_add(1), sum)
        });
    }
    let mut rest = high.wrapping_sub(low) << 1;
    let mut power = power;
    if rest == 0 {
        return Some(0);
    }
    if rest >> 20 == 0 {
        rest <<= 12;
        power = power.wrapping_sub(12);
    }
    while rest & FIRST == 0 {
        rest <<= 1;
        power = power.wrapping_sub(1);
    }
    Some(rounded(a, power, rest))
}

/// `a * b`, rounded to nearest, ties to even; `None` if that is to be asked of somebody else.
#[must_use]
#[inline(always)]
pub fn product(a: u32, b: u32) -> Option<u32> {
    let sign = a ^ b;
    let (power, other) = (exponent(a).wrapping_sub(1), exponent(b).wrapping_sub(1));
    let both = power.wrapping_add(other).wrapping_sub(125);
    // Neither a carry nor rounding leads out of what is normal.
    if power > 253 || other > 253 || both.wrapping_sub(1) > 251 {
        return None;
    }
    // 24 bits each, in parts of 16 and 8, for no product may be longer than 32 bits; of its 48 bits the upper 32 are kept.
    let (a, b) = (a << 8 | FIRST, b << 8 | FIRST);
    let (a, a_low) = (a >> 16, a << 16 >> 24);
    let (b, b_low) = (b >> 16, b << 16 >> 24);
    let lowest = a_low.wrapping_mul(b_low);
    let middle = a
        .wrapping_mul(b_low)
        .wrapping_add(a_low.wrapping_mul(b))
        .wrapping_add(lowest >> 8);
    let kept = a.wrapping_mul(b).wrapping_add(middle >> 8);
    let product = kept | u32::from(middle << 24 | lowest << 24 != 0);
    Some(if product & FIRST == 0 {
        rounded(sign, both, product << 1)
    } else {
        rounded(sign, both.wrapping_add(1), product)
    })
}

/// The number with the sign of `sign` and the size `significand * 2^(power - 158)`, where the significand has its first bit set
/// and its last one stands for all below it that is not zero.
#[inline(always)]
fn rounded(sign: u32, power: u32, significand: u32) -> u32 {
    let whole = significand >> 8;
    let up = (significand & 0xff).wrapping_add(0x7f).wrapping_add(whole & 1) >> 8;
    // The first bit is not written: it adds one to the exponent, as a carry does.
    (sign >> 31 << 31 | power.wrapping_sub(1) << 23)
        .wrapping_add(whole)
        .wrapping_add(up)
}

const fn exponent(x: u32) -> u32 {
    x << 1 >> 24
}

const FIRST: u32 = 1 << 31;
/// Exponent from which on a difference cannot be subnormal.
const LEAST_OF_A_SUM: u32 = 27;
