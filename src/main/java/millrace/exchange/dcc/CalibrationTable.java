// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.List;
import millrace.calibration.CertificateCorrectionLine;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;

/**
 * A table of a digital certificate: what an instrument showed where a reference was known.
 * Immutable.
 *
 * @param place where it begins
 * @param reference the kind of the reference values; {@link Dimension#TEMPERATURE_DIFFERENCE}
 *     stands for temperatures, whose values are in degC
 * @param indication the kind of what the instrument showed, in the same manner
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
   * @param reference what was true
   * @param indication what the instrument showed
   * @param error indication minus reference, as the certificate states it; where it states none and
   *     both are of one kind their difference, else 0
   * @param expanded U of the error, or of the indication where no error is stated; above 0
   * @param coverageFactor k of U; above 0
   */
  public record Row(
      double reference, double indication, double error, double expanded, double coverageFactor) {}

  /**
   * Tells whether the instrument shows what it is held against, so that it can be corrected.
   *
   * @return false for example for a resistance thermometer, which shows ohms
   */
  public boolean isOfOneKind() {
    return reference == indication;
  }

  /**
   * What an indication is corrected by.
   *
   * @return a line for each row: at the indication, the error with its sign turned
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
