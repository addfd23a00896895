// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.conformity.FailedResult;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.assessment.RunCauseDiagnosis;
import millrace.assessment.basis.SharedRunInputs;
import millrace.assessment.comparison.BatchDriftWatch;
import millrace.assessment.comparison.MergedBatch;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.Version;
import millrace.fault.NotAnalysableException;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFacts;
import millrace.report.words.BatchDriftWords;
import millrace.report.words.RepairHint;
import millrace.report.words.ResultWords;
import millrace.run.control.RunObserver;
import millrace.run.production.BoardOutcome;
import millrace.run.production.BoardResult;
import millrace.run.production.BoardTest;
import millrace.run.production.BoardTestJob;
import millrace.sequence.SequenceFile;
import millrace.time.SystemClock;

/** Runs the sequence on one board, stores its results, and judges it. */
public final class BoardRunner implements BoardTest {
  private final RunInputs inputs;
  private final BenchSession setting;
  private final Logbook book;
  private final OperatorAttendance attendance;
  private final RunFacts facts;
  private final BatchElsewhere elsewhere;
  private final BatchDriftWatch drifts = new BatchDriftWatch();

  /**
   * Creates a runner.
   *
   * @param facts the facts stored with each run of the session
   * @param elsewhere what other benches know of the batch; closed by the caller
   */
  public BoardRunner(
      RunInputs inputs,
      BenchSession setting,
      Logbook book,
      OperatorAttendance attendance,
      RunFacts facts,
      BatchElsewhere elsewhere) {
    this.inputs = inputs;
    this.setting = setting;
    this.book = book;
    this.attendance = attendance;
    this.facts = facts;
    this.elsewhere = elsewhere;
  }

  @Override
  public List<String> news() {
    return elsewhere.news();
  }

  @Override
  public BoardResult test(BoardTestJob board) {
    elsewhere.refresh();
    setting.simulation().ifPresent(s -> insert(s, board));
    RunFacts all = facts.and(board.facts());
    UnitUnderTest order =
        new UnitUnderTest(board.serial(), board.slot(), Optional.of(board.setUp()), all);
    SharedRunInputs read = new SharedRunInputs();
    return judged(new Night(inputs, setting, book, watched(board, read)).begin(order).run(), read);
  }

  /**
   * The people at the bench, and the early end where the sequence asks for it; a check of the bench
   * is measured whole.
   */
  private OperatorAttendance watched(BoardTestJob board, SharedRunInputs read) {
    SequenceFile.Production rules = inputs.loaded().sequence().production();
    boolean whole = rules.firstFail() == SequenceFile.FirstFail.GO_ON && rules.earlyEnd().isEmpty();
    if (whole || board.purpose() == ProductionRunPurpose.CHECK) {
      return attendance;
    }
    List<RunObserver> observers = new ArrayList<>(attendance.observers());
    int looks = EarlyBoardEnd.looks(inputs.plan(board.slot().stream().toList()));
    observers.add(new EarlyBoardEnd(book, rules, looks, read));
    return new OperatorAttendance(
        attendance.people(),
        attendance.operator(),
        observers,
        attendance.stop(),
        attendance.cautions());
  }

  private static void insert(SimulatedBenchSession simulation, BoardTestJob board) {
    if (board.purpose() == ProductionRunPurpose.CHECK) {
      simulation.insertReference(board.serial());
    } else {
      simulation.insert(board.serial());
    }
  }

  private BoardResult judged(long run, SharedRunInputs read) {
    try {
      Assessment assessment = Assessor.assess(book.reader(run), read);
      Evaluations.save(book, assessment, Version.CURRENT, new SystemClock().now());
      return judged(run, assessment);
    } catch (NotAnalysableException e) {
      return new BoardResult(
          run,
          BoardOutcome.NOT_JUDGED,
          List.of(),
          List.of(e.getMessage()),
          Optional.empty(),
          Optional.empty(),
          List.of(),
          Optional.empty());
    }
  }

  private BoardResult judged(long run, Assessment assessment) {
    BoardOutcome outcome =
        BoardOutcome.of(
            assessment.results(),
            assessment.points().whole(),
            inputs.datasheet().conditionalPassFails());
    Optional<String> bin = outcome.passed() ? assessment.bin() : Optional.empty();
    List<String> doubts = outcome == BoardOutcome.NOT_JUDGED ? doubts(assessment) : List.of();
    Optional<String> hint =
        outcome == BoardOutcome.FAIL
            ? RunCauseDiagnosis.of(assessment).flatMap(RepairHint::of)
            : Optional.empty();
    return new BoardResult(
        run,
        outcome,
        FailedResult.among(assessment.results()),
        doubts,
        bin,
        assessment.points().early(),
        drifts(run),
        hint);
  }

  private List<String> drifts(long run) {
    List<BatchJudgedValue> batch = MergedBatch.of(book.reader(run).batch(), elsewhere.values());
    List<String> words = new ArrayList<>(BatchDriftWords.of(drifts.of(batch)));
    words.addAll(elsewhere.reminder());
    return words;
  }

  private static List<String> doubts(Assessment assessment) {
    List<String> doubts = new ArrayList<>();
    Assessment.PointCounts points = assessment.points();
    if (!points.whole()) {
      doubts.add(points.inWords());
    }
    assessment.results().stream()
        .filter(BoardRunner::open)
        .map(r -> ResultWords.name(r) + " was not evaluated: " + reason(r))
        .forEach(doubts::add);
    return doubts;
  }

  private static boolean open(Result r) {
    return r.judgement().filter(j -> j.conformity() == Conformity.NOT_EVALUATED).isPresent();
  }

  private static String reason(Result r) {
    return r.outcome() instanceof ComputationOutcome.Missing m
        ? m.reason()
        : "its uncertainty or bound leaves it open";
  }
}
