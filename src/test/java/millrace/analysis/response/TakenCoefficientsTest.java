// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** A board that was measured at one temperature, with coefficients of a type run. */
class TakenCoefficientsTest {
  private static final double[] VOLTS = {0, 2, 4, 6, 8, 10};
  private static final BorrowedCoefficients TYPE =
      new BorrowedCoefficients(BorrowedCoefficients.Kind.TYPE_RUN, "12");

  private static ResponseCoefficientSet ofTypeRun() {
    RangeResponse type =
        Flat.response(Flat.range("r", 0.05, new double[] {23, 5, 15, 35, 50, 23}, VOLTS));
    return type.coefficients();
  }

  private static RangeResponse board(ResponseCoefficientSet taken) {
    return Flat.response(
        Flat.range("r", 0.05, new double[] {24}, VOLTS),
        new ResponseSettings(
            23, Map.of("r", List.of(new ResponseSettings.Taken(TYPE, taken))), Map.of()));
  }

  @Test
  void reachesAsFarAsTheTypeRun() {
    RangeResponse board = board(ofTypeRun().withSpread(ResponseCoefficient.A, 0.5e-6));
    ResponsePrediction.Value hot =
        board.at(PredictionCondition.atVoltage(44, 5)).value().orElseThrow();
    assertEquals(Flat.ppm(44, 5, 0.05), hot.errorPpm().value(), 0.3);
    // 20 K of 0.5 ppm/K beside the gain
    double u = hot.errorPpm().standardUncertainty();
    assertEquals(10, Math.sqrt(u * u - 100), 0.5);
    assertEquals(List.of(TYPE), hot.leansOn());
    assertEquals(ResponsePrediction.Basis.PREDICTED, hot.basis());
    assertTrue(board.at(PredictionCondition.atVoltage(60, 5)).value().isEmpty());
  }

  @Test
  void leansOnNothingWhereItWasMeasuredItself() {
    RangeResponse board = board(ofTypeRun().withSpread(ResponseCoefficient.A, 0.5e-6));
    ResponsePrediction.Value here =
        board.at(PredictionCondition.atVoltage(24, 5)).value().orElseThrow();
    assertEquals(List.of(), here.leansOn());
    assertEquals(ResponsePrediction.Basis.MEASURED, here.basis());
  }

  /** Worst cases of a design hold everywhere; what it does not say stays assumed. */
  @Test
  void takesADesignsWorstCase() {
    ResponseCoefficientSet design =
        ResponseCoefficientSet.independent(
            List.of(ResponseCoefficient.A),
            new double[] {0},
            new double[] {3e-6},
            10,
            ResponseValidityDomain.everywhere());
    BorrowedCoefficients from = new BorrowedCoefficients(BorrowedCoefficients.Kind.DESIGN, "BX5");
    RangeResponse board =
        Flat.response(
            Flat.range("r", 0, new double[] {23}, VOLTS),
            new ResponseSettings(
                23, Map.of("r", List.of(new ResponseSettings.Taken(from, design))), Map.of()));
    ResponsePrediction.Value hot =
        board.at(PredictionCondition.atVoltage(33, 5)).value().orElseThrow();
    double u = hot.errorPpm().standardUncertainty();
    assertEquals(30, Math.sqrt(u * u - 100), 1);
    assertEquals(List.of(from), hot.leansOn());
  }

  /** What was measured here counts, not what the type did. */
  @Test
  void keepsWhatItMeasuredItself() {
    ResponseCoefficientSet other =
        ResponseCoefficientSet.independent(
            List.of(ResponseCoefficient.A),
            new double[] {50e-6},
            new double[] {1e-9},
            10,
            ResponseValidityDomain.everywhere());
    RangeResponse unit =
        Flat.response(
            Flat.range("r", 0, new double[] {23, 10, 40, 23}, VOLTS),
            new ResponseSettings(
                23, Map.of("r", List.of(new ResponseSettings.Taken(TYPE, other))), Map.of()));
    ResponsePrediction.Value value =
        unit.at(PredictionCondition.atVoltage(33, 5)).value().orElseThrow();
    assertEquals(Flat.ppm(33, 5, 0), value.errorPpm().value(), 0.5);
    assertEquals(List.of(), value.leansOn());
  }

  /** x counts of the voltage of the run that a bend was found in. */
  @Test
  void scalesBendsToItsOwnVoltage() {
    ResponseCoefficientSet bend =
        ResponseCoefficientSet.independent(
            List.of(ResponseCoefficient.G_10),
            new double[] {1e-6},
            new double[] {1e-12},
            5,
            ResponseValidityDomain.everywhere());
    RangeResponse unit =
        Flat.response(
            Flat.range("r", 0, new double[] {23}, 0, 10),
            new ResponseSettings(
                23, Map.of("r", List.of(new ResponseSettings.Taken(TYPE, bend))), Map.of()));
    // 1 ppm/V V^2/(5 V) over a chord from 0 to 10 V: half way it hangs 5 ppm below
    double half = unit.errorAndUPpm(23, 5)[0];
    assertEquals(Flat.ppm(23, 5, 0) - 5, half, 0.05);
  }
}
