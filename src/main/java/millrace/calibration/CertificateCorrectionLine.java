// SPDX-License-Identifier: Apache-2.0
package millrace.calibration;

/**
 * One line of a correction table: reference minus indication.
 *
 * @param at the indication, base units
 * @param correction what is added to it, base units
 * @param standardUncertainty of the correction, base units, 0 or more
 */
public record CertificateCorrectionLine(double at, double correction, double standardUncertainty) {
  /** Checks the uncertainty. */
  public CertificateCorrectionLine {
    if (!(standardUncertainty >= 0)) {
      throw new IllegalArgumentException(
          "a correction has u = " + standardUncertainty + "; expected 0 or more");
    }
  }
}
