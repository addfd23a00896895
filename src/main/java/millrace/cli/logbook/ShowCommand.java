// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.nio.file.Path;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.PointOption;
import millrace.cli.option.RunSourceOption;
import millrace.document.file.LabSigningKey;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.logbook.Logbook;
import millrace.logbook.Remark;
import millrace.logbook.RunFacts;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.report.table.PointTable;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows what the logbook holds of a run. */
@Command(
    name = "show",
    mixinStandardHelpOptions = true,
    description = {
      "Shows what the logbook holds of a run.",
      "With --verify it is checked against its digest and its seal, which a report carries: what"
          + " was measured, and every judging and note since. Anyone who can write the file can"
          + " also recompute them, so they prove something only together with a digest kept"
          + " elsewhere (--digest) or a signature (--key)."
    },
    footer = {
      "",
      "Examples:",
      "  millrace show 12 --points",
      "  millrace show 12 --point 37",
      "  millrace show 12 --verify",
      "  millrace show 12 --verify --key fennick-public.pem"
    })
public final class ShowCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Option(
      names = "--verify",
      description = "Check the file and recompute the digest that the report carries.")
  private boolean verify;

  @Option(
      names = "--digest",
      paramLabel = "HEX",
      description =
          "With --verify: the digest or seal on a report or label, whole or its beginning.")
  private Optional<String> printed = Optional.empty();

  @Option(
      names = "--key",
      paramLabel = "FILE",
      description = "With --verify: the laboratory's public key, which must have signed the run.")
  private Optional<Path> key = Optional.empty();

  @Option(
      names = "--point",
      paramLabel = "P",
      description = "One point alone: settings, every reply, why it is flagged.")
  private Optional<String> point = Optional.empty();

  @Option(names = "--points", description = "All points, a line each, instead of the run.")
  private boolean points;

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public ShowCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    if (!verify && (printed.isPresent() || key.isPresent())) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--digest and --key go with --verify");
    }
    point.ifPresent(PointOption::checked);
    Optional<LabSigningKey.Checking> laboratory = key.map(LabSigningKey::checking);
    try (Logbook book = source.readOnly()) {
      RunSummary summary = book.find(run);
      RunReader reader = book.reader(summary.id());
      if (points) {
        console.table(PointTable.list(reader.points()));
        return ExitCode.DONE.number();
      }
      if (point.isPresent()) {
        PointOption.all(reader, point.get()).forEach(p -> one(p, reader));
        return ExitCode.DONE.number();
      }
      int code =
          verify
              ? new VerificationSummary(console, book, summary).tell(printed, laboratory).number()
              : ExitCode.DONE.number();
      head(summary, reader);
      instruments(reader);
      points(reader.points());
      incidents(reader.incidents());
      reader.planChanges().forEach(c -> console.print("  change of the plan, " + c.inOneLine()));
      reader
          .remarks()
          .forEach(
              r ->
                  console.print(
                      "  %s%s by %s: %s"
                          .formatted(r.kind().text(), about(r, reader), r.author(), r.text())));
      return code;
    }
  }

  private static String about(Remark remark, RunReader reader) {
    return remark.point().isEmpty()
        ? ""
        : reader
            .point(remark.point().getAsLong())
            .map(p -> " of point " + p.number().text())
            .orElse("");
  }

  private void one(Point shown, RunReader reader) {
    PointTable.head(shown).forEach(console::print);
    reader.remarks().stream()
        .filter(r -> r.point().isPresent() && r.point().getAsLong() == shown.id())
        .forEach(
            r -> console.print("  %s by %s: %s".formatted(r.kind().text(), r.author(), r.text())));
    console.print("");
    console.table(PointTable.readings(reader.readings(shown.id())));
    console.print("");
  }

  private void head(RunSummary s, RunReader reader) {
    console.print("run %s  %s".formatted(s.id(), s.uuid()));
    console.print("  unit      " + s.start().unit());
    console.print("  origin    " + s.start().origin().text());
    console.print("  title     " + s.start().title());
    s.start().people().operator().ifPresent(o -> console.print("  operator  " + o));
    s.start().people().batch().ifPresent(b -> console.print("  batch     " + b));
    s.start().people().tag().ifPresent(t -> console.print("  tag       " + t));
    console.print(
        "  began     "
            + s.start()
                .measuredAt()
                .map(at -> at.truncatedTo(ChronoUnit.SECONDS) + " (UTC)")
                .orElse("at a time that the imported file does not state"));
    imported(s.start().facts());
    console.print(
        "  state     " + s.state().text() + (s.remark().isEmpty() ? "" : ": " + s.remark()));
    console.print("  digest    " + s.digest().orElse("none before the run has ended"));
    reader.seal().ifPresent(seal -> console.print("  seal      " + seal));
    console.print("  readings  " + reader.readingCount());
    for (RunInputFile f : reader.files()) {
      console.print("  %-9s %s  sha256 %s".formatted(f.role().text(), f.name(), f.sha256()));
    }
  }

  private void imported(RunFacts facts) {
    facts.importedOn().ifPresent(day -> console.print("  imported  on " + day));
    facts.bench().ifPresent(bench -> console.print("  bench     " + bench));
  }

  private void instruments(RunReader reader) {
    console.print("instruments:");
    reader
        .instruments()
        .forEach(
            i ->
                console.print(
                    "  %-12s %-34s %s%s"
                        .formatted(
                            i.name(),
                            i.roles(),
                            i.identity(),
                            i.certificate()
                                .flatMap(c -> c.dueOn())
                                .map(d -> ", calibration due " + d)
                                .orElse(""))));
  }

  private void points(List<Point> points) {
    long complete = points.stream().filter(p -> p.state() == PointState.COMPLETE).count();
    console.print("points: %s, %s of them complete".formatted(points.size(), complete));
    points.stream()
        .filter(p -> p.state() != PointState.COMPLETE)
        .forEach(
            p ->
                console.print(
                    "  %s %s: %s, %s"
                        .formatted(p.number().text(), p.key(), p.state().text(), p.reason())));
  }

  private void incidents(List<Incident> incidents) {
    console.print("incidents: " + incidents.size());
    incidents.forEach(
        i ->
            console.print(
                "  %-12s %s%s"
                    .formatted(
                        i.kind().text(),
                        i.text(),
                        i.pointKey().map(p -> " (" + p + ")").orElse(""))));
  }
}
