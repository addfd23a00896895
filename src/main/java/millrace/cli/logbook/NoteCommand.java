package millrace.cli.logbook;

import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.Callable;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.assessment.SideBySide;
import millrace.cli.exit.ExitCode;
import millrace.cli.exit.Judged;
import millrace.cli.option.LogbookOption;
import millrace.document.LabKey;
import millrace.evidence.Version;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.NotAnalysableException;
import millrace.fault.Place;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.report.table.SideBySideTable;
import millrace.terminal.Console;
import millrace.time.SystemClock;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Adds a remark to a run or a point. */
@Command(
    name = "note",
    mixinStandardHelpOptions = true,
    description =
        "Adds a remark to a run or to one of its points. Remarks are never changed or"
            + " deleted. What is not to be used is left out of the results, which are shown with"
            + " and without it.",
    footer = {
      "",
      "Examples:",
      "  millrace note 12 \"the door stood open until 19:40\"",
      "  millrace note 12 --point 37 --do-not-use \"a lead had slipped off\"",
      "  millrace note 12 --sign lab.pem \"released\""
    })
public final class NoteCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(index = "0", paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Parameters(index = "1", paramLabel = "TEXT", description = "What is to be said.")
  private String text = "";

  @Option(names = "--point", paramLabel = "P", description = "The number of a point.")
  private Optional<Long> point = Optional.empty();

  @Option(
      names = "--do-not-use",
      description = "Leave the point, or the whole run, out of results; TEXT says why.")
  private boolean doNotUse;

  @Option(names = "--use-again", description = "Take that back; TEXT says why.")
  private boolean useAgain;

  @Option(names = "--author", paramLabel = "NAME", description = "Who says it.")
  private String author = System.getProperty("user.name", "unknown");

  @Option(
      names = "--sign",
      paramLabel = "KEY",
      description =
          "Sign the run as it stands then, with its results and this note, with the laboratory's"
              + " private key, a PEM file.")
  private Optional<Path> sign = Optional.empty();

  @Mixin private LogbookOption logbook = new LogbookOption();

  /**
   * The command at a console.
   *
   * @param console where it prints and asks
   */
  public NoteCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    Optional<LabKey.Signing> key = sign.map(LabKey::signing);
    try (Logbook book = logbook.write()) {
      long id = book.find(run).id();
      if (point.isPresent() && book.reader(id).point(point.get()).isEmpty()) {
        throw new BadInputException(
            new Fault(
                Place.of("--point"),
                "run %s has no point %s".formatted(id, point.get()),
                "the number of a point",
                "See 'millrace show %s'.".formatted(id)));
      }
      RemarkKind kind =
          doNotUse ? RemarkKind.DO_NOT_USE : useAgain ? RemarkKind.USE_AGAIN : RemarkKind.REMARK;
      book.add(id, new Remark(kind, numbered(), text, author, new SystemClock().now()));
      console.error("noted on run %s".formatted(id));
      if (kind != RemarkKind.REMARK) {
        judgeAgain(book, book.reader(id));
      }
      key.ifPresent(
          laboratory -> {
            book.sign(id, laboratory, new SystemClock().now());
            console.error("signed run %s as it stands".formatted(id));
          });
    }
    return ExitCode.DONE.number();
  }

  /** Results with what was taken out or in again beside those before. */
  private void judgeAgain(Logbook book, RunReader reader) {
    if (reader.summary().state() == RunState.UNFINISHED) {
      return;
    }
    try {
      Assessment assessment = Assessor.assess(reader);
      Evaluations.save(book, assessment, Version.CURRENT, new SystemClock().now());
      SideBySide.of(reader, assessment).ifPresent(b -> console.table(SideBySideTable.print(b)));
      console.print(new Judged(assessment).sentence());
    } catch (NotAnalysableException e) {
      console.error(e.getMessage());
    }
  }

  private OptionalLong numbered() {
    return point.map(OptionalLong::of).orElse(OptionalLong.empty());
  }
}
