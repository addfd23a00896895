// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.Set;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** Many runs that are read together: the same as each of them alone. */
class JudgedRunReaderTest {
  /** More than go into one question of the smaller sizes. */
  private static final int RUNS = 70;

  @RegisterExtension final OpenBook open = new OpenBook();

  @BeforeEach
  void write() {
    for (int i = 0; i < RUNS; i++) {
      try (RunWriter writer = open.logbook().begin(Sample.start("BX5-" + i))) {
        writer.file(FileRole.DATASHEET, "bx5.yaml", new byte[] {1, (byte) i});
        writer.setUp(new FixtureSetUp("fixture " + i % 3, "", ""));
        writer.commit(
            Sample.point("p", i % 5 == 0 ? PointState.FLAGGED : PointState.COMPLETE),
            Sample.readings(1),
            List.of());
        writer.end(RunState.COMPLETE, "", Sample.START);
      }
      for (int nth = 0; nth < i % 4; nth++) {
        open.logbook().save(i + 1, evaluation(nth), List.of(result(i, nth), result(i, -nth)));
      }
    }
  }

  private static RunEvaluation evaluation(int nth) {
    return new RunEvaluation(
        "basis " + nth,
        Sample.START.plusSeconds(nth),
        "0.2.0",
        Optional.empty(),
        OptionalDouble.empty(),
        List.of(),
        Optional.empty(),
        nth == 1 ? Optional.of("bin A") : Optional.empty(),
        "");
  }

  private static Result result(int run, int nth) {
    return new Result(
        ResultQuantity.CURRENT_ERROR,
        Optional.of("1mA"),
        ResultConditions.NONE,
        new ComputationOutcome.Value(run + nth / 10.0, Optional.empty(), 10),
        Optional.empty(),
        List.of(),
        Optional.empty(),
        "mean",
        List.of("note of " + nth));
  }

  @Test
  void readsWhatEachRunSaysAlone() {
    List<RunSummary> runs = open.logbook().runs(RunFilter.ALL);
    List<JudgedRun> all = new JudgedRunReader(open.logbook()).of(runs);
    assertEquals(RUNS, all.size());
    for (JudgedRun each : notEmpty(all)) {
      RunReader alone = open.logbook().reader(each.run().id());
      Optional<RunEvaluation> last = alone.evaluations().stream().reduce((a, b) -> b);
      assertEquals(alone.summary(), each.run());
      assertEquals(last.isPresent(), each.judging().isPresent());
      assertEquals(last.map(alone::resultsAlone).orElse(List.of()), each.results());
      assertEquals(
          last.flatMap(RunEvaluation::bin), each.judging().flatMap(JudgedRun.Judging::bin));
      assertEquals(Optional.of(alone.files().get(0).sha256()), each.datasheetSha256());
      assertEquals(alone.doubtfulPoints(), each.doubtfulPoints());
      assertEquals(alone.instruments(), each.instruments());
      assertEquals(alone.setUp(), each.setUp());
    }
  }

  private void note(long run, RemarkKind kind, OptionalLong point) {
    open.logbook().add(run, new Remark(kind, point, "said", "Ada", Sample.START));
  }

  @Test
  void theLastWordOnUseCounts() {
    note(2, RemarkKind.DO_NOT_USE, OptionalLong.empty());
    note(3, RemarkKind.DO_NOT_USE, OptionalLong.empty());
    note(3, RemarkKind.USE_AGAIN, OptionalLong.empty());
    note(4, RemarkKind.DO_NOT_USE, OptionalLong.of(1));
    note(5, RemarkKind.REMARK, OptionalLong.empty());
    assertEquals(
        Set.of(2L),
        new JudgedRunReader(open.logbook()).withdrawn(open.logbook().runs(RunFilter.ALL)));
  }
}
