// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.OptionalDouble;
import millrace.analysis.batch.ProportionInterval;
import millrace.analysis.batch.ToleranceInterval;
import millrace.analysis.regression.TheilSen;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Worked examples and tables that were printed with few digits: all of them are reached. */
class PublishedTablesTest {

  private static Estimate input(String name, double value, ErrorDistribution shape, double u) {
    ErrorSource source =
        new ErrorSource(
            name, ErrorSource.RUN, name, shape, OptionalDouble.empty(), u, "as the input");
    return Estimate.exact(value).with(source, 1);
  }

  /**
   * EA-4/02 M:2022, example S3: a 10 kohm standard resistor by substitution, R_X = (R_S + dR_D +
   * dR_TS) r_C r - dR_TX = 10 000.178 ohm with u = 8.33 mohm.
   */
  @Test
  void standardResistorOfEa402() {
    Estimate standard =
        input("R_S", 10000.053, ErrorDistribution.NORMAL, 2.5e-3)
            .plus(input("dR_D", 0.020, ErrorDistribution.RECTANGULAR, 0.010 / Math.sqrt(3)))
            .plus(input("dR_TS", 0, ErrorDistribution.RECTANGULAR, 2.75e-3 / Math.sqrt(3)));
    Estimate found =
        standard
            .times(input("r_C", 1, ErrorDistribution.TRIANGULAR, 1e-6 / Math.sqrt(6)))
            .times(input("r", 1.0000105, ErrorDistribution.NORMAL, 0.158e-6 / Math.sqrt(5)))
            .minus(input("dR_TX", 0, ErrorDistribution.RECTANGULAR, 5.5e-3 / Math.sqrt(3)));
    assertEquals(10000.178, found.value(), 5e-4);
    assertEquals(8.33e-3, found.standardUncertainty(), 5e-6);
    assertEquals(
        17e-3, Budget.of(found).uncertainty(0.9545).expanded(), 0.5e-3, "U = 17 mohm with k = 2");
  }

  /**
   * EA-4/02 M:2022, example S9: a hand-held multimeter at 100 V, whose resolution of 0.1 V is
   * rectangular and outweighs all else: u = 0.030 V, U = 0.05 V, and k = 1.65 covers 95 %, what
   * else there is neglected.
   */
  @Test
  void multimeterOfEa402WhereOneRectangularComponentDominates() {
    Estimate found =
        input("dV_ix", 0.1, ErrorDistribution.RECTANGULAR, 0.05 / Math.sqrt(3))
            .plus(input("V_s", 0, ErrorDistribution.NORMAL, 0.001))
            .plus(input("dV_s", 0, ErrorDistribution.RECTANGULAR, 0.011 / Math.sqrt(3)));
    ComputationOutcome.Uncertainty u = Budget.of(found).uncertainty(0.95);
    assertEquals(0.030, u.standard(), 0.0005);
    assertEquals(0.05, u.expanded(), 0.002);
    assertEquals(1.65, u.coverageFactor(), 0.06);
  }

  /** Newcombe, Statistics in Medicine 17 (1998) 857, table I, exact method. */
  @ParameterizedTest
  @CsvSource({
    "81, 263, 0.2527, 0.3676",
    "15, 148, 0.0578, 0.1617",
    "0, 20, 0, 0.1684",
    "1, 29, 0.0009, 0.1776"
  })
  void exactIntervalsOfAShare(int count, int of, double lower, double upper) {
    ProportionInterval found = ProportionInterval.of(count, of, 0.95);
    assertEquals(lower, found.interval().lower(), 5.1e-5);
    assertEquals(upper, found.interval().upper(), 5.1e-5);
  }

  /** ISO 16269-6, share 0.95 with confidence 0.95 (printed digits from memory, held with scipy). */
  @ParameterizedTest
  @CsvSource({"5, 5.077", "10, 3.393", "20, 2.760", "30, 2.555", "50, 2.382"})
  void factorsOfToleranceIntervals(int n, double factor) {
    assertEquals(factor, ToleranceInterval.twoSidedFactor(n, 0.95, 0.95), 6e-4);
  }

  /** Sen, J. Am. Statist. Assoc. 63 (1968) 1379, section 5: slope 4, from 26/7 to 35/8 (93 %). */
  @Test
  void slopeOfSensOwnExample() {
    double[] x = {1, 2, 3, 4, 10, 12, 18};
    double[] y = {9, 15, 19, 20, 45, 55, 78};
    TheilSen found = TheilSen.of(x, y, 0.93);
    assertEquals(4, found.slope(), 1e-12);
    assertEquals(26 / 7.0, found.low(), 1e-12);
    assertEquals(35 / 8.0, found.high(), 1e-12);
  }
}
