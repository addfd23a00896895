// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.SQLException;
import java.util.List;
import millrace.evidence.PointState;

/** Logbooks with runs of real units, as many and as long as a test wants. */
public final class BenchRuns {
  private BenchRuns() {}

  /**
   * Writes complete runs.
   *
   * @param logbook the file
   * @param runs how many
   * @param readings of each of its ten points
   */
  public static void write(Path logbook, int runs, int readings) {
    try (Logbook book = Logbook.openOrCreate(logbook)) {
      for (int i = 0; i < runs; i++) {
        try (RunWriter writer = book.begin(Sample.start("BX5-" + i))) {
          writer.file(FileRole.DATASHEET, "bx5.yaml", new byte[] {1, 2, 3});
          for (int p = 0; p < 10; p++) {
            writer.commit(
                Sample.point("p" + p, PointState.COMPLETE), Sample.readings(readings), List.of());
          }
          writer.end(RunState.COMPLETE, "", Sample.START);
        }
      }
    }
  }

  /**
   * Makes the simulated runs of a logbook as if a real bench had taken them: with all that such a
   * bench writes, under a digest and seals of their own.
   *
   * @param logbook the file
   */
  public static void asIfReal(Path logbook) {
    try (SqlSession session = SqliteConnections.forWriting(logbook)) {
      session.transact(
          "making runs real",
          () -> {
            for (String trigger : List.of("run_keeps_its_identity", "link_stays", "link_remains")) {
              session.script("DROP TRIGGER " + trigger);
            }
            session.script(
                "UPDATE run SET origin = 'bench', seed = NULL, virtual_time = NULL"
                    + " WHERE origin = 'simulated'");
            session.script("DELETE FROM link");
            for (RunSummary run : RunSqlRows.list(session, RunFilter.ALL)) {
              seal(session, run.id());
            }
          });
    }
  }

  private static void seal(SqlSession session, long run) throws SQLException {
    RunSealChain.add(session, run, RunSealChain.Kind.END, RunDigest.store(session, run));
    for (RunSealChain.Kind kind : List.of(RunSealChain.Kind.JUDGING, RunSealChain.Kind.NOTE)) {
      for (long id : kind.ids(session, run)) {
        RunSealChain.add(session, run, kind, id);
      }
    }
  }
}
