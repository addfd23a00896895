// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.screening;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import millrace.evidence.Point;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunReader;

/**
 * Points that a remark took out of results; each is named with its reason.
 *
 * @param whole the remark that took out the whole run; empty if none did
 * @param points the remarks that took out points, by number of the point
 */
public record WithdrawnPoints(Optional<Remark> whole, Map<Long, Remark> points) {

  /** What the remarks of a run come to: the last one on a point, or on the run, counts. */
  private static WithdrawnPoints among(List<Remark> remarks) {
    Map<Long, Remark> points = new TreeMap<>();
    Optional<Remark> whole = Optional.empty();
    for (Remark remark : remarks) {
      boolean out = remark.kind() == RemarkKind.DO_NOT_USE;
      if (remark.kind() == RemarkKind.REMARK) {
        continue;
      }
      if (remark.point().isEmpty()) {
        whole = out ? Optional.of(remark) : Optional.empty();
      } else if (out) {
        points.put(remark.point().getAsLong(), remark);
      } else {
        points.remove(remark.point().getAsLong());
      }
    }
    return new WithdrawnPoints(whole, points);
  }

  /**
   * The points that remarks took out.
   *
   * @param reader the run
   * @param notes each of them is named here with its reason
   * @return their numbers
   * @throws NotAnalysableException if a remark took the whole run out
   */
  public static Set<Long> of(RunReader reader, List<String> notes) {
    WithdrawnPoints withdrawn = among(reader.remarks());
    withdrawn.whole().ifPresent(remark -> refuse(reader.summary().id(), remark));
    withdrawn
        .points()
        .forEach(
            (number, remark) -> reader.point(number).ifPresent(p -> notes.add(leftOut(p, remark))));
    return new HashSet<>(withdrawn.points().keySet());
  }

  private static String leftOut(Point point, Remark remark) {
    return "point %s (%s) is left out: %s (%s)"
        .formatted(point.number().text(), point.key(), remark.text(), remark.author());
  }

  private static void refuse(long run, Remark remark) {
    throw new NotAnalysableException(
        "run %s is not to be used: %s (%s). Say 'millrace note %s --use-again' to take that back."
            .formatted(run, remark.text(), remark.author(), run));
  }

  /** What is out, a line each; empty where everything counts. */
  public static List<String> inWords(RunReader reader) {
    List<String> lines = new ArrayList<>();
    among(reader.remarks()).points().forEach((n, r) -> lines.add(n + " " + r.text()));
    return lines;
  }
}
