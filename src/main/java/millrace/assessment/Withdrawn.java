package millrace.assessment;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import millrace.evidence.Point;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunReader;

/** Points that a remark took out of results; each is named with its reason. */
final class Withdrawn {
  private Withdrawn() {}

  static Set<Long> of(RunReader reader, List<String> notes) {
    Map<Long, Remark> points = new HashMap<>();
    Remark whole = null;
    for (Remark remark : reader.remarks()) {
      OptionalLong point = remark.point();
      if (remark.kind() == RemarkKind.REMARK) {
        continue;
      }
      boolean out = remark.kind() == RemarkKind.DO_NOT_USE;
      if (point.isEmpty()) {
        whole = out ? remark : null;
      } else if (out) {
        points.put(point.getAsLong(), remark);
      } else {
        points.remove(point.getAsLong());
      }
    }
    if (whole != null) {
      throw new NotAnalysableException(
          "run %d is not to be used: %s (%s). Say 'millrace note %d --use-again' to take that back."
              .formatted(
                  reader.summary().id(), whole.text(), whole.author(), reader.summary().id()));
    }
    for (Point point : reader.points()) {
      Remark remark = points.get(point.id());
      if (remark != null) {
        notes.add(
            "point %d (%s) is left out: %s (%s)"
                .formatted(point.id(), point.key(), remark.text(), remark.author()));
      }
    }
    return new HashSet<>(points.keySet());
  }
}
