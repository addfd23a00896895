// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.CertificateCorrectionLine;

/**
 * A certificate's corrections, reference minus indication, linear between its points; up to 5 %
 * beyond an end point that point's correction is held and its u doubled (methods.md 1.1).
 *
 * <p>Immutable and thread-safe.
 */
public final class CertificateCorrectionTable {
  /** How far beyond an end point its correction still counts, a ratio. */
  public static final double REACH = 0.05;

  private final String instance;
  private final String unit;
  private final List<CertificateCorrectionLine> entries;

  private CertificateCorrectionTable(
      String instance, String unit, List<CertificateCorrectionLine> entries) {
    this.instance = instance;
    this.unit = unit;
    this.entries = entries;
  }

  /**
   * A table.
   *
   * @param instance instrument and range that it is for
   * @param unit of indication and correction
   * @param entries its lines in any order; may be empty: nothing is corrected
   * @return the table
   */
  public static CertificateCorrectionTable of(
      String instance, String unit, List<CertificateCorrectionLine> entries) {
    List<CertificateCorrectionLine> sorted = new ArrayList<>(entries);
    sorted.sort(
        Comparator.comparingDouble(CertificateCorrectionLine::at)
            .thenComparingDouble(CertificateCorrectionLine::correction));
    return new CertificateCorrectionTable(instance, unit, List.copyOf(sorted));
  }

  /**
   * Corrects an indication.
   *
   * @param indication x0, its zero already taken off
   * @return x0 + c(x0) with the certificate's errors; empty where x0 lies farther than {@link
   *     #REACH} beyond the table, so that the point is flagged
   */
  public Optional<Estimate> corrected(Estimate indication) {
    if (entries.isEmpty()) {
      return Optional.of(indication);
    }
    double x = indication.value();
    CertificateCorrectionLine first = entries.get(0);
    CertificateCorrectionLine last = entries.get(entries.size() - 1);
    if (x < first.at()) {
      return held(indication, first);
    } else if (x > last.at()) {
      return held(indication, last);
    }
    for (int i = 1; i < entries.size(); i++) {
      if (x <= entries.get(i).at()) {
        return Optional.of(between(indication, entries.get(i - 1), entries.get(i)));
      }
    }
    return Optional.of(with(indication, last, 1));
  }

  private Optional<Estimate> held(Estimate indication, CertificateCorrectionLine end) {
    double beyond = Math.abs(indication.value() - end.at());
    boolean inReach = beyond <= REACH * Math.abs(end.at());
    return inReach ? Optional.of(with(indication, end, 1).with(source(end), 1)) : Optional.empty();
  }

  private Estimate between(
      Estimate indication, CertificateCorrectionLine a, CertificateCorrectionLine b) {
    double share = b.at() == a.at() ? 0.5 : (indication.value() - a.at()) / (b.at() - a.at());
    return with(with(indication, a, 1 - share), b, share);
  }

  private Estimate with(Estimate indication, CertificateCorrectionLine line, double share) {
    return indication.plus(share * line.correction()).with(source(line), share);
  }

  private ErrorSource source(CertificateCorrectionLine line) {
    return ErrorSource.normal(
        "certificate correction",
        ErrorSource.INSTRUMENT_AND_RANGE,
        instance + " at " + line.at(),
        line.standardUncertainty(),
        unit);
  }
}
