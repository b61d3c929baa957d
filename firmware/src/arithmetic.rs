//! Our own floating point under the names by which the compiler calls it (run-time ABI for the Arm architecture, 4.1.2): numbers
//! come and go in ordinary registers.

use yarn_scale_firmware::float::{product, sum};

unsafe extern "aapcs" {
    safe fn __addsf3(a: u32, b: u32) -> u32;
    safe fn __mulsf3(a: u32, b: u32) -> u32;
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_fadd(a: u32, b: u32) -> u32 {
    sum(a, b).unwrap_or_else(|| __addsf3(a, b))
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_fsub(a: u32, b: u32) -> u32 {
    __aeabi_fadd(a, b ^ 1 << 31)
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_fmul(a: u32, b: u32) -> u32 {
    product(a, b).unwrap_or_else(|| __mulsf3(a, b))
}
