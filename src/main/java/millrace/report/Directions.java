package millrace.report;

import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadPoint;

/**
 * Tells points of a rising load from those of a falling one by when the highest load was taken.
 *
 * @param peakS when, s; empty where points carry no times
 */
record Directions(OptionalDouble peakS) {

  static Directions of(List<LoadPoint> points) {
    boolean timed = points.stream().mapToDouble(LoadPoint::timeS).distinct().count() > 1;
    return new Directions(
        timed
            ? points.stream()
                .max(Comparator.comparingDouble(Directions::load))
                .map(p -> OptionalDouble.of(p.timeS()))
                .orElseGet(OptionalDouble::empty)
            : OptionalDouble.empty());
  }

  private static double load(LoadPoint p) {
    return p.loadOhm().orElse(Math.abs(p.voltageV().value()));
  }

  /** Whether a point was taken after the highest load. */
  boolean falling(LoadPoint p) {
    return peakS.isPresent() && p.timeS() > peakS.getAsDouble();
  }

  /** What to call points that are all of one direction. */
  String words(boolean falling) {
    if (peakS.isEmpty()) {
      return "measured";
    }
    return falling ? "load falling" : "load rising";
  }
}
