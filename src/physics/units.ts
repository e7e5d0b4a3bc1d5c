/** 0 degC in kelvin; exact by definition. */
export const ZERO_C_IN_K = 273.15;

/** Molar gas constant, J/(mol K); the exact SI value rounded to four digits. */
export const GAS_CONSTANT = 8.314;

/** Acceleration of free fall, m/s2; two decimals, finer than any other figure it meets here. */
export const GRAVITY = 9.81;

/** Standard atmosphere, Pa; exact by definition. */
export const ATMOSPHERE_PA = 101_325;
