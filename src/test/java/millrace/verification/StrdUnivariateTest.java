// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import com.fasterxml.jackson.databind.JsonNode;
import millrace.analysis.Reference;
import millrace.analysis.reduction.ReadingAccumulator;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** NIST Statistical Reference Datasets, univariate summary statistics. */
class StrdUnivariateTest {
  private static final Digits DIGITS =
      Digits.of(StrdUnivariateTest.class, Origin.PUBLISHED, "NIST StRD univariate");

  @ParameterizedTest
  @CsvSource({
    "Lew, 1e-12, 1e-9",
    "Mavro, 1e-12, 1e-9",
    "Michelso, 1e-12, 1e-9",
    "NumAcc1, 1e-12, 1e-9",
    "NumAcc2, 1e-12, 1e-9",
    "NumAcc3, 1e-9, 1e-6",
    "NumAcc4, 1e-7, 1e-6"
  })
  void meanDeviationAndAutocorrelation(String name, double sd, double lagged) {
    double[] y =
        Reference.rows("strd/univariate/" + name + ".csv").stream()
            .mapToDouble(r -> Reference.number(r, "y"))
            .toArray();
    JsonNode certified = Reference.json("strd/univariate/" + name + ".json").get("certified");
    ReadingStatistics s = ReadingAccumulator.statisticsOf(y);
    DIGITS.agree(name + " mean", certified.get("mean").asDouble(), s.mean(), 1e-14);
    DIGITS.agree(
        name + " sd", certified.get("sd_n_minus_1").asDouble(), Math.sqrt(s.variance()), sd);
    DIGITS.agree(
        name + " lag-1 autocorrelation",
        certified.get("autocorrelation_lag1").asDouble(),
        s.laggedSum() / s.sumOfSquares(),
        lagged);
  }
}
