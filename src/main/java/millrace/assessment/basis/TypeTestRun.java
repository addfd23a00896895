// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.basis;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.analysis.response.BorrowedCoefficients;
import millrace.analysis.response.ResponseCoefficient;
import millrace.analysis.response.ResponseCoefficientSet;
import millrace.analysis.response.ResponseSettings.Taken;
import millrace.assessment.design.DesignTempcoCoefficients;
import millrace.datasheet.Datasheet;

/**
 * A run that supplies coefficients which another run did not measure (methods.md 11.6).
 *
 * @param run its UUID
 * @param name its name in results
 * @param ranges its coefficients, by range
 */
public record TypeTestRun(UUID run, String name, Map<String, Handed> ranges) {
  /** Least spread of the tempco between two units if no data give it, 1/K. */
  private static final double LEAST_SPREAD_PER_K = 1e-6;

  /**
   * The coefficients of one range that a type run supplies.
   *
   * @param coefficients its own, with their covariance
   * @param batchSpreadPerK standard deviation of the tempco of one more unit of its batch, 1/K;
   *     empty with fewer than three units
   */
  public record Handed(ResponseCoefficientSet coefficients, Optional<Double> batchSpreadPerK) {}

  /** Copies the map. */
  public TypeTestRun {
    ranges = Map.copyOf(ranges);
  }

  /**
   * The coefficients that another unit takes from this one. Their covariance is their own plus the
   * spread between units: that of the batch, else that which the design allows, else the size of
   * the coefficient itself.
   *
   * @param sheet of the other unit; empty if there is none
   * @param range the range
   * @return the coefficients; none if the type run has no temperature coefficient of the range
   */
  public List<Taken> taken(Optional<Datasheet> sheet, String range) {
    Handed handed = ranges.get(range);
    if (handed == null) {
      return List.of();
    }
    Optional<ResponseCoefficientSet> design =
        sheet.flatMap(s -> DesignTempcoCoefficients.of(s, range));
    ResponseCoefficientSet own =
        handed.coefficients().only(List.of(ResponseCoefficient.A, ResponseCoefficient.G_L));
    for (ResponseCoefficient c : own.of()) {
      double value = own.valueAndU(c).orElseThrow()[0];
      own = own.withSpread(c, spread(c, value, handed, design));
    }
    return own.of().isEmpty()
        ? List.of()
        : List.of(
            new Taken(new BorrowedCoefficients(BorrowedCoefficients.Kind.TYPE_RUN, name), own));
  }

  private static double spread(
      ResponseCoefficient c, double value, Handed handed, Optional<ResponseCoefficientSet> design) {
    if (c == ResponseCoefficient.A && handed.batchSpreadPerK().isPresent()) {
      return handed.batchSpreadPerK().get();
    }
    Optional<Double> allowed = design.flatMap(d -> d.valueAndU(c)).map(v -> v[1]);
    double least = c == ResponseCoefficient.A ? LEAST_SPREAD_PER_K : 0;
    return allowed.orElse(Math.max(Math.abs(value), least));
  }
}
