// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ObjDoubleConsumer;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.reduction.ReducedPoint;

/**
 * The points of a trial. A trial asks for values, and a fit asks of the errors of its points only
 * how large what a point, or a stay, shares with no other is: that gives the weights. So a point
 * carries these two sizes in place of all its errors by name, and a trial is many times as fast.
 */
final class TrialPoints {
  /** More than one stay has the error. */
  private static final int SEVERAL = -1;

  private final List<ReducedPoint> points;
  private final Map<ErrorSource, Integer> stays = new HashMap<>();

  TrialPoints(List<ReducedPoint> points) {
    this.points = points;
    for (ReducedPoint p : points) {
      ObjDoubleConsumer<ErrorSource> seen =
          (source, part) ->
              stays.merge(source, p.stay(), (a, b) -> a.equals(b) ? a : Integer.valueOf(SEVERAL));
      p.currentA().forEachPart(seen);
      p.voltageV().forEachPart(seen);
      p.temperatureDegC().ifPresent(t -> t.forEachPart(seen));
    }
  }

  /** The points about zero, each with the errors that give weights. */
  List<ReducedPoint> light() {
    List<ReducedPoint> light = new ArrayList<>();
    for (ReducedPoint p : points) {
      light.add(
          with(p, light(p.currentA()), light(p.voltageV()), p.temperatureDegC().map(this::light)));
    }
    return light;
  }

  /** Of the mean of a stay, errors that several of its points share are taken as all of theirs. */
  private Estimate light(Estimate whole) {
    double ofStay =
        whole.standardUncertainty(s -> !s.pointWise() && stays.getOrDefault(s, SEVERAL) != SEVERAL);
    return Estimate.drawn(0, whole.pointUncertainty(), ofStay);
  }

  /**
   * A point where its errors moved it.
   *
   * @param light a point with the errors that give weights
   * @param drawn current, voltage and temperature of this and the other points
   * @param at where those of this point begin
   */
  static ReducedPoint moved(ReducedPoint light, double[] drawn, int at) {
    return with(
        light,
        light.currentA().plus(drawn[at]),
        light.voltageV().plus(drawn[at + 1]),
        light.temperatureDegC().map(t -> t.plus(drawn[at + 2])));
  }

  private static ReducedPoint with(
      ReducedPoint p, Estimate currentA, Estimate voltageV, Optional<Estimate> temperatureDegC) {
    return new ReducedPoint(
        p.point(),
        p.name(),
        p.stay(),
        p.timeS(),
        currentA,
        voltageV,
        temperatureDegC,
        p.unsteady(),
        p.notes());
  }
}
