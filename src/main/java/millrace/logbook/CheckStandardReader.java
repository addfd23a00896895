// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.setting.PointSettings;

/** Reads what runs of real benches read of check standards, all runs in one question. Stateless. */
public final class CheckStandardReader {
  /** A store is led from each point to its readings; left to itself it might read all of them. */
  private static final String LOOKS =
      "SELECT p.run_id, p.number, "
          + PointSqlRows.SETTINGS.formatted("p.", "p.")
          + ", c.signal, r.value, r.zero"
          + " FROM run u JOIN point p ON p.run_id = u.id"
          + " /*store AND p.month = u.month AND p.run_uuid = u.run_uuid*/"
          + " JOIN /*store LATERAL (SELECT x.point_id, x.number, x.state, x.channel_id, x.value,"
          + " x.zero FROM*/ reading /*store x WHERE x.month = p.month AND x.run_uuid = p.run_uuid"
          + " AND x.point_id = p.id OFFSET 0)*/ r ON r.point_id = p.id"
          + " JOIN channel c ON c.id = r.channel_id"
          + " WHERE u.origin = 'bench' AND p.kind = ? AND p.state = 'complete' AND r.state = 0"
          + " AND c.signal IN (?, ?) ORDER BY p.run_id, p.number, r.number";

  private CheckStandardReader() {}

  /**
   * The looks of all runs; withdrawn points are among them.
   *
   * @param book a logbook or store
   * @return in the order of runs and points
   */
  public static List<CheckStandardLook> of(Logbook book) {
    SqlSession session = book.session();
    return session.query(
        "reading check standards",
        () -> {
          Adding adding = new Adding();
          session.list(
              LOOKS,
              slots ->
                  slots
                      .text(PointKind.CHECK_STANDARD.text())
                      .text(MeasuredSignal.CURRENT.text())
                      .text(MeasuredSignal.REVERSED_CURRENT.text()),
              row -> adding.add(new Row(row)));
          adding.finish();
          return adding.looks;
        });
  }

  /** A reading with its point. */
  private static final class Row {
    private final long run;
    private final long point;
    private final String settings;
    private final boolean forward;
    private final double shownA;

    Row(SqlQueryRow row) throws SQLException {
      run = row.whole();
      point = row.whole();
      settings = row.text();
      forward = row.text().equals(MeasuredSignal.CURRENT.text());
      shownA = row.number() - row.maybeNumber().orElse(0);
    }
  }

  /** Means of the points while their readings come. */
  private static final class Adding {
    private final List<CheckStandardLook> looks = new ArrayList<>();
    private final double[] sums = new double[2];
    private final int[] counts = new int[2];
    private Optional<Row> first = Optional.empty();

    boolean add(Row row) {
      if (first.filter(f -> f.run == row.run && f.point == row.point).isEmpty()) {
        finish();
        first = Optional.of(row);
      }
      int way = row.forward ? 0 : 1;
      sums[way] += row.shownA;
      counts[way]++;
      return true;
    }

    void finish() {
      first.ifPresent(this::finish);
      for (int way = 0; way < 2; way++) {
        sums[way] = 0;
        counts[way] = 0;
      }
      first = Optional.empty();
    }

    private void finish(Row of) {
      PointSettings settings = PointSettings.of(JsonColumnText.map(of.settings));
      if (settings.checkStandard().isEmpty() || counts[0] == 0) {
        return;
      }
      double forward = sums[0] / counts[0];
      looks.add(
          new CheckStandardLook(
              of.run,
              of.point,
              settings.checkStandard().get(),
              settings.currentMeter().range(),
              counts[1] == 0 ? forward : (forward - sums[1] / counts[1]) / 2));
    }
  }
}
