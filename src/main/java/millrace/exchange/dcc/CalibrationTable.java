// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.List;
import millrace.calibration.CertificateCorrectionLine;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;

/**
 * A table of a digital certificate: indications of an instrument at known reference values.
 * Immutable.
 *
 * @param place the place of its beginning
 * @param reference the kind of the reference values; {@link Dimension#TEMPERATURE_DIFFERENCE}
 *     stands for temperatures, whose values are in degC
 * @param indication the kind of the indications, likewise
 * @param rows at least one
 */
public record CalibrationTable(
    FilePlace place, Dimension reference, Dimension indication, List<Row> rows) {
  /** Copies the list. */
  public CalibrationTable {
    rows = List.copyOf(rows);
  }

  /**
   * One point of a table, in base units, temperatures in degC.
   *
   * @param reference the reference value
   * @param indication the indication of the instrument
   * @param error indication minus reference, as the certificate states it; without a statement
   *     their difference where both are of one kind, else 0
   * @param expanded U of the error, or of the indication without a stated error; above 0
   * @param coverageFactor k of U; above 0
   */
  public record Row(
      double reference, double indication, double error, double expanded, double coverageFactor) {}

  /**
   * Tells whether indication and reference are of one kind, so that the instrument can be
   * corrected.
   *
   * @return false for example for a resistance thermometer, which shows ohms
   */
  public boolean isOfOneKind() {
    return reference == indication;
  }

  /**
   * The corrections of the indication.
   *
   * @return one line per row: at the indication, the error with the opposite sign
   * @throws IllegalStateException if reference and indication are of different kinds
   */
  public List<CertificateCorrectionLine> corrections() {
    if (!isOfOneKind()) {
      throw new IllegalStateException("no corrections: reference and indication differ in kind");
    }
    return rows.stream()
        .map(
            r ->
                new CertificateCorrectionLine(
                    r.indication(), 0 - r.error(), r.expanded() / r.coverageFactor()))
        .toList();
  }
}
