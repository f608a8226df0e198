/**
 * The temperature at which water settles out of this air, in degrees Celsius.
 * @param rh relative humidity, fraction above 0 up to 1
 * @source Magnus form with the coefficients of Alduchov and Eskridge, Improved Magnus Form Approximation of Saturation Vapor
 * Pressure, J. Appl. Meteor. 35 (1996), p. 601: 17.625 and 243.04 C, valid from -40 to 50 C (from memory)
 */
export function dewPointC(celsius: number, rh: number): number {
  const gamma = Math.log(rh) + (17.625 * celsius) / (243.04 + celsius)
  return (243.04 * gamma) / (17.625 - gamma)
}

/**
 * A coat goes onto wood that is at least this much warmer than the dew point, in kelvins.
 * @source ISO 8502-4, Guidance on the estimation of the probability of condensation prior to paint application: 3 C (from memory)
 */
export const ABOVE_DEW_POINT_K = 3
