// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Limits;
import org.junit.jupiter.api.Test;

class BatchBadInputTest {
  private static final double[] FLAT = {5, 5, 5, 5, 5, 5, 5, 5, 5};

  @Test
  void valuesThatAreAllAlikeHaveNoCapabilityAndNoOutliers() {
    assertEquals(Optional.empty(), Capability.of(FLAT, Limits.between(0, 9), 0.95));
    assertEquals(List.of(), Outliers.of(FLAT, 3, 0.05).places());
    assertEquals(List.of(), IndividualsChart.of(FLAT).signals());
    assertThrows(IllegalArgumentException.class, () -> Normality.of(FLAT));
    assertThrows(IllegalArgumentException.class, () -> TwoBatches.of(FLAT, FLAT, 0.95));
  }

  @Test
  void oneValueHasAMeanAndNoScatter() {
    BatchMeanAndSpread one = BatchMeanAndSpread.of(new double[] {3});
    assertEquals(3, one.mean());
    assertEquals(0, one.sd());
    assertEquals(new Interval(0, 0), one.sdInterval(0.95));
    assertThrows(IllegalArgumentException.class, () -> IndividualsChart.of(new double[] {3}));
  }

  @Test
  void noValuesAndWhatIsNoNumberAreRefused() {
    String message =
        assertThrows(IllegalArgumentException.class, () -> BatchMeanAndSpread.of(new double[0]))
            .getMessage();
    assertEquals("0 values; expected at least one, all finite", message);
    assertThrows(
        IllegalArgumentException.class, () -> BatchMeanAndSpread.of(new double[] {1, Double.NaN}));
  }

  @Test
  void aJumpBetweenUnitsShowsOnTheChart() {
    double[] values = {1, 1.1, 0.9, 1, 1.05, 0.95, 1, 3, 1, 1.1, 0.9, 1};
    IndividualsChart chart = IndividualsChart.of(values);
    assertEquals(List.of(new ChartSignal(ChartSignal.Rule.BEYOND, true, 7, 7)), chart.signals());
    assertEquals(List.of(7, 8), chart.rangesOutside());
  }
}
