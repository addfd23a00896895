// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.assessment.JudgementComparison;
import millrace.cli.exit.AssessmentExitCode;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.LogbookOption;
import millrace.cli.option.PointOption;
import millrace.document.file.LabSigningKey;
import millrace.evidence.Point;
import millrace.evidence.Version;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.report.table.JudgementComparisonTable;
import millrace.report.words.PointWords;
import millrace.terminal.Console;
import millrace.terminal.Questions;
import millrace.time.SystemClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Adds a remark to a run or a point. */
@Command(
    name = "note",
    mixinStandardHelpOptions = true,
    description =
        "Adds a remark to a run or to one of its points. Remarks are never changed or"
            + " deleted. What is not to be used is left out of the results, which are shown with"
            + " and without it. A repair of the unit begins a new line of its drift.",
    footer = {
      "",
      "Examples:",
      "  millrace note 12 \"the door stood open until 19:40\"",
      "  millrace note 12 --point 37 --do-not-use \"a lead had slipped off\"",
      "  millrace note 12 --point 37 --use-again \"it was another point\"",
      "  millrace note 12 --repair \"R2 replaced\"",
      "  millrace note 12 --sign lab.pem \"released\""
    })
public final class NoteCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(index = "0", paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Parameters(index = "1", paramLabel = "TEXT", description = "The remark.")
  private String text = "";

  @Option(
      names = "--point",
      paramLabel = "P",
      description = "The number of a point, as preview, run and report call it.")
  private Optional<String> point = Optional.empty();

  @Option(
      names = "--do-not-use",
      description = "Leave the point, or the whole run, out of results; TEXT says why.")
  private boolean doNotUse;

  @Option(names = "--use-again", description = "Undo --do-not-use; TEXT says why.")
  private boolean useAgain;

  @Option(
      names = "--repair",
      description =
          "The unit was repaired or adjusted after this run; TEXT says what was done. 'unit' then"
              + " computes its drift anew.")
  private boolean repair;

  @Option(names = "--yes", description = "Do not ask for confirmation.")
  private boolean yes;

  @Option(names = "--author", paramLabel = "NAME", description = "Who makes the remark.")
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
   * @param console its output and questions
   */
  public NoteCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    point.ifPresent(PointOption::checked);
    refuseWhatDoesNotGoTogether();
    Optional<LabSigningKey.Signing> key = sign.map(LabSigningKey::signing);
    try (Logbook book = logbook.write()) {
      long id = book.find(run).id();
      Optional<Point> meant = point.map(p -> PointOption.of(book.reader(id), p));
      String what =
          meant.map(p -> PointWords.of(p) + " of run " + id).orElse("run " + id + " as a whole");
      RemarkKind kind = kind();
      if (kind == RemarkKind.DO_NOT_USE && !confirmed(what)) {
        console.error("nothing was noted");
        return ExitCode.BAD_INPUT.number();
      }
      book.add(id, new Remark(kind, numbered(meant), text, author, new SystemClock().now()));
      console.error("noted on " + what);
      if (kind.decidesUse()) {
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

  private void refuseWhatDoesNotGoTogether() {
    if (Stream.of(doNotUse, useAgain, repair).filter(given -> given).count() > 1) {
      throw refusal(
          "--do-not-use, --use-again and --repair say different things; expected one of them");
    }
    if (repair && point.isPresent()) {
      throw refusal("--repair is of the unit as a whole; expected no --point");
    }
  }

  private CommandLine.ParameterException refusal(String words) {
    return new CommandLine.ParameterException(spec.commandLine(), words);
  }

  private RemarkKind kind() {
    if (repair) {
      return RemarkKind.REPAIR;
    }
    return doNotUse ? RemarkKind.DO_NOT_USE : useAgain ? RemarkKind.USE_AGAIN : RemarkKind.REMARK;
  }

  /** The excluded point is named first: a number is easily mistaken. */
  private boolean confirmed(String what) {
    if (yes) {
      return true;
    }
    if (!console.interactive()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("note"),
              "nobody is there to confirm that " + what + " is to be left out",
              "--yes",
              "See that it is the one that is meant, then say --yes."));
    }
    String answer =
        new Questions(console, false).ask("Leave out " + what + "? Type 'yes' to do so:");
    return answer.toLowerCase(Locale.ROOT).equals("yes");
  }

  /** The results with the excluded or included points beside those before. */
  private void judgeAgain(Logbook book, RunReader reader) {
    if (reader.summary().state() == RunState.UNFINISHED) {
      return;
    }
    try {
      Assessment assessment = Assessor.assess(reader);
      Evaluations.save(book, assessment, Version.CURRENT, new SystemClock().now());
      console.print(new AssessmentExitCode(assessment).sentence());
      JudgementComparison.of(reader, assessment)
          .ifPresent(b -> console.table(JudgementComparisonTable.print(b)));
    } catch (NotAnalysableException e) {
      console.error(e.getMessage());
    }
  }

  private static OptionalLong numbered(Optional<Point> meant) {
    return meant.map(p -> OptionalLong.of(p.id())).orElse(OptionalLong.empty());
  }
}
