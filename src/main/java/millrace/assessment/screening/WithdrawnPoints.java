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
 * Points withdrawn from results by a remark, each with its reason.
 *
 * @param whole the remark that withdrew the whole run; empty if there is none
 * @param points the remarks that withdrew points, by number of the point
 */
public record WithdrawnPoints(Optional<Remark> whole, Map<Long, Remark> points) {

  /** The state after all remarks of a run: the last one on a point, or on the run, counts. */
  private static WithdrawnPoints among(List<Remark> remarks) {
    Map<Long, Remark> points = new TreeMap<>();
    Optional<Remark> whole = Optional.empty();
    for (Remark remark : remarks) {
      boolean out = remark.kind() == RemarkKind.DO_NOT_USE;
      if (!remark.kind().decidesUse()) {
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
   * The points withdrawn by remarks.
   *
   * @param reader the run
   * @param notes takes one note per point, with its reason
   * @return their numbers
   * @throws NotAnalysableException if a remark withdrew the whole run
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

  /** The withdrawn points, one line each; empty if everything counts. */
  public static List<String> inWords(RunReader reader) {
    List<String> lines = new ArrayList<>();
    among(reader.remarks()).points().forEach((n, r) -> lines.add(n + " " + r.text()));
    return lines;
  }
}
