// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import java.util.Optional;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;

/**
 * What is known of an instrument in one role.
 *
 * @param accuracy its statements, one per range or one for all
 * @param corrections from its certificate, by rising reading; may be empty
 * @param box what is known of a load; {@link LoadProperties#NONE} in other roles
 * @param allowed what it may be told, or may meet at its input
 */
public record RoleFacts(
    List<AccuracyStatement> accuracy,
    List<CertificateCorrectionLine> corrections,
    LoadProperties box,
    InstrumentLimits allowed) {
  /** Copies the lists. */
  public RoleFacts {
    accuracy = List.copyOf(accuracy);
    corrections = List.copyOf(corrections);
  }

  /**
   * The statement for a range.
   *
   * @param fullScale what the range is called by
   * @return its own, else the one for all ranges; empty if neither is there
   */
  public Optional<AccuracyStatement> forRange(double fullScale) {
    Optional<AccuracyStatement> own =
        accuracy.stream()
            .filter(a -> a.fullScale().isPresent())
            .filter(a -> Math.abs(a.fullScale().get() / fullScale - 1) < 1e-6)
            .findFirst();
    return own.or(() -> accuracy.stream().filter(a -> a.fullScale().isEmpty()).findFirst());
  }
}
