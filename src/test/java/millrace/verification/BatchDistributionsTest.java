// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.verification.Digits.Origin;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.FDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;

/** Quantiles that intervals rest on, against R. */
class BatchDistributionsTest {
  private static final Digits DIGITS =
      Digits.of(BatchDistributionsTest.class, Origin.RECOMPUTED, "quantiles (R)");

  @Test
  void studentsT() {
    for (Map<String, String> row : Reference.rows("distributions/t_quantile.csv")) {
      double p = Reference.number(row, "p");
      double nu = Reference.number(row, "nu");
      if (p > 0.5 && nu == Math.floor(nu)) {
        double k = CoverageFactors.factor(2 * p - 1, OptionalDouble.of(nu));
        DIGITS.agree("t", Reference.number(row, "t"), k, 1e-8);
      }
    }
  }

  @Test
  void normal() {
    NormalDistribution normal = new NormalDistribution(null, 0, 1);
    for (Map<String, String> row : Reference.rows("distributions/normal_quantile.csv")) {
      double z = normal.inverseCumulativeProbability(Reference.number(row, "p"));
      DIGITS.agree("normal", Reference.number(row, "z"), z, 1e-10);
    }
  }

  @Test
  void chiSquared() {
    for (Map<String, String> row : Reference.rows("distributions/chisq_quantile.csv")) {
      double p = Reference.number(row, "p");
      double nu = Reference.number(row, "nu");
      double found = new ChiSquaredDistribution(null, nu).inverseCumulativeProbability(p);
      // Commons Math stops at 1e-9 of the quantile itself, so lower ones have fewer digits.
      double tolerance = p < 0.5 ? 1e-4 : 1e-8;
      DIGITS.agree(
          p < 0.5 ? "chi squared, lower" : "chi squared, upper",
          Reference.number(row, "chi2"),
          found,
          tolerance);
    }
  }

  @Test
  void ratioOfVariances() {
    for (Map<String, String> row : Reference.rows("distributions/f_quantile.csv")) {
      double found =
          new FDistribution(null, Reference.number(row, "nu1"), Reference.number(row, "nu2"))
              .inverseCumulativeProbability(Reference.number(row, "p"));
      DIGITS.agree("F", Reference.number(row, "f"), found, 1e-7);
    }
  }
}
