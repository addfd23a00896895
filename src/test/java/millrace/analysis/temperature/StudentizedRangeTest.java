// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.Map;
import millrace.analysis.Reference;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

class StudentizedRangeTest {
  @Test
  void agreesWithTheQuantilesOfR() {
    Digits digits =
        Digits.of(StudentizedRangeTest.class, Origin.RECOMPUTED, "quantiles computed with R");
    for (Map<String, String> row : Reference.rows("distributions/studentized_range_inf.csv")) {
      if (Reference.number(row, "p") == 0.95) {
        int n = (int) Reference.number(row, "n");
        digits.agree(
            "studentized range", Reference.number(row, "q"), StudentizedRange.q95(n), 1e-6);
      }
    }
  }
}
