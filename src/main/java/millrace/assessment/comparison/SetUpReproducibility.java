// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.assessment.comparison.Comparison.SetUpStudy;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;

/**
 * Reproducibility of a set-up, from runs in which a reference unit was taken out and put back
 * (methods.md 2.6): the same point is measured once per connection, and the scatter of its mean
 * current is that of the connections, its own noise included. The meter's error is the same each
 * time and cancels.
 */
final class SetUpReproducibility {
  /** The name of the sequence. */
  static final String TITLE = "set-up reproducibility";

  private static final double PPM = 1e6;

  private SetUpReproducibility() {}

  /** Range and load of a point. */
  private record Where(String range, double nominalA, double loadOhm) {}

  /** Mean of one connection and its standard uncertainty from its own scatter, A. */
  private record Mean(double valueA, double noiseA) {}

  static List<SetUpStudy> of(List<ComparedRun> runs, Logbook book) {
    List<SetUpStudy> studies = new ArrayList<>();
    for (ComparedRun run : runs) {
      if (run.run().start().title().equals(TITLE)) {
        studies.addAll(of(book.reader(run.run().id())));
      }
    }
    return studies;
  }

  private static List<SetUpStudy> of(RunReader reader) {
    Map<Where, List<Mean>> means = new LinkedHashMap<>();
    for (Point point : reader.points()) {
      boolean measured = point.kind() == PointKind.MEASURE && point.state() == PointState.COMPLETE;
      if (measured && point.conditions().range().isPresent()) {
        double[] values =
            Reading.corrected(reader.readings(point.id()), MeasuredSignal.CURRENT).toArray();
        if (values.length > 1) {
          BatchMeanAndSpread s = BatchMeanAndSpread.of(values);
          means
              .computeIfAbsent(where(point), w -> new ArrayList<>())
              .add(new Mean(s.mean(), s.sd() / Math.sqrt(s.n())));
        }
      }
    }
    List<SetUpStudy> studies = new ArrayList<>();
    means.forEach(
        (where, connections) -> {
          if (connections.size() > 1) {
            studies.add(study(reader.summary().id(), where, connections));
          }
        });
    return studies;
  }

  private static Where where(Point point) {
    return new Where(
        point.conditions().range().orElseThrow(),
        point.conditions().nominalA().orElse(1),
        point.conditions().loadOhm().orElse(0));
  }

  private static SetUpStudy study(long run, Where where, List<Mean> connections) {
    double nominal = Math.abs(where.nominalA());
    double[] ppm =
        connections.stream().mapToDouble(m -> (m.valueA() / where.nominalA() - 1) * PPM).toArray();
    double noise =
        Math.sqrt(
            connections.stream().mapToDouble(m -> m.noiseA() * m.noiseA()).average().orElse(0));
    return new SetUpStudy(
        run,
        where.range(),
        nominal,
        where.loadOhm(),
        BatchMeanAndSpread.of(ppm),
        noise / nominal * PPM);
  }
}
