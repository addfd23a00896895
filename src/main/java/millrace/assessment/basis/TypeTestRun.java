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
 * A run whose coefficients stand in for those that another run did not measure (methods.md 11.6).
 *
 * @param run its UUID
 * @param name what a result says of it
 * @param ranges what it hands on, by range
 */
public record TypeTestRun(UUID run, String name, Map<String, Handed> ranges) {
  /** How far tempcos of two units lie apart where nothing tells it, 1/K, at the least. */
  private static final double LEAST_SPREAD_PER_K = 1e-6;

  /**
   * What a type run hands on of one range.
   *
   * @param coefficients its own, with their covariance
   * @param batchSpreadPerK how far the tempco of one more unit of its batch may lie apart, as a
   *     standard deviation, 1/K; empty where fewer than three units tell it
   */
  public record Handed(ResponseCoefficientSet coefficients, Optional<Double> batchSpreadPerK) {}

  /** Copies the map. */
  public TypeTestRun {
    ranges = Map.copyOf(ranges);
  }

  /**
   * What another unit takes from this one: its temperature coefficients with the spread between
   * units beside their own covariance: that of the batch, else that which the design allows, else
   * as much as the coefficient itself.
   *
   * @param sheet of the other unit; empty if there is none
   * @param range the range
   * @return what it takes; nothing where the type run has no temperature coefficient of the range
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
