package millrace.cli;

import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.concurrent.Callable;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.logbook.Logbook;
import millrace.logbook.RunFile;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.logbook.Verification;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Shows what the logbook holds of a run. */
@Command(
    name = "show",
    mixinStandardHelpOptions = true,
    description = "Shows what the logbook holds of a run; --verify recomputes its digest.",
    footer = {"", "Example:", "  millrace show 12 --verify"})
final class ShowCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Option(
      names = "--verify",
      description = "Check the file and recompute the digest that the report carries.")
  private boolean verify;

  @Mixin private LogbookOption logbook = new LogbookOption();

  ShowCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook book = logbook.readOnly()) {
      RunSummary summary = book.find(run);
      RunReader reader = book.reader(summary.id());
      head(summary, reader);
      instruments(reader);
      points(reader.points());
      incidents(reader.incidents());
      reader
          .remarks()
          .forEach(
              r ->
                  console.print("  %s by %s: %s".formatted(r.kind().text(), r.author(), r.text())));
      return verify ? verified(book.verify(summary.id())) : ExitCode.DONE.number();
    }
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
        "  began     " + s.start().startedAt().truncatedTo(ChronoUnit.SECONDS) + " (UTC)");
    console.print(
        "  state     " + s.state().text() + (s.remark().isEmpty() ? "" : ": " + s.remark()));
    console.print("  digest    " + s.digest().orElse("none before the run has ended"));
    console.print("  readings  " + reader.readingCount());
    for (RunFile f : reader.files()) {
      console.print("  %-9s %s  sha256 %s".formatted(f.role().text(), f.name(), f.sha256()));
    }
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
                    "  %s %s: %s, %s".formatted(p.id(), p.key(), p.state().text(), p.reason())));
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

  private int verified(Verification found) {
    console.print("digest computed: " + found.computed());
    if (found.sound()) {
      console.print("verified: the file is whole, and the data are those that were stored");
      return ExitCode.DONE.number();
    }
    found.faults().forEach(f -> console.error("millrace: " + f));
    return ExitCode.LOGBOOK.number();
  }
}
