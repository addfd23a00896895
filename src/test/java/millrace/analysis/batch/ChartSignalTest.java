// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The run rules of the NIST/SEMATECH e-Handbook, 6.3.2, each at its edge: with one value less it is
 * silent. Values are in sigma about a mean of 0.
 */
class ChartSignalTest {
  private static List<String> signals(String values) {
    double[] each = List.of(values.split(" ")).stream().mapToDouble(Double::parseDouble).toArray();
    return ChartSignal.in(each, 0, 1).stream()
        .map(s -> s.rule() + (s.above() ? "+" : "-") + s.first() + "-" + s.last())
        .toList();
  }

  @ParameterizedTest
  @CsvSource({
    "0 3.1 0, BEYOND+1-1",
    "0 -3.1 -3.2 0, TWO_OF_THREE-0-2 BEYOND-1-1 BEYOND-2-2",
    "0 3 0, ''",
    "0 2.1 0.5 2.1, TWO_OF_THREE+1-3",
    "0 2.1 0.5 -2.1, ''",
    "0 2.1 0.5 0.5 2.1, ''",
    "-1.1 -1.1 0 -1.1 -1.1 0, FOUR_OF_FIVE-0-4",
    "-1.1 -1.1 0 -1.1 -1 0, ''",
    "0.1 0.2 0.1 0.2 0.1 0.2 0.1 0.2 0.1 -1, EIGHT+0-8",
    "0.1 0.2 0.1 0.2 0.1 0.2 0.1 -1, ''",
    "-0.3 -0.2 -0.1 0 0.1 0.2, TREND+0-5",
    "-0.3 -0.2 -0.1 0 0.1 0.1, ''",
    "0.4 0.3 0.2 0.1 0 -0.1 -0.2, TREND-0-6",
    "0 1 0 1 0 1 0 1 0 1 0 1 0 1, ALTERNATING+0-13",
    "0 1 0 1 0 1 0 1 0 1 0 1 0, ''"
  })
  void speaksAtItsEdge(String values, String expected) {
    assertEquals(expected, String.join(" ", signals(values)));
  }
}
