package millrace.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import millrace.bench.BenchLock;
import millrace.bench.driver.Drivers;
import millrace.run.watchdog.Watchdog;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The watchdog, started by a run on a bench; people do not call it. */
@Command(name = "guard", hidden = true, description = "Waits for the end of a run.")
final class GuardCommand implements Callable<Integer> {
  private final Console console;

  @Option(names = "--drivers", paramLabel = "FOLDER", description = "The folder of drivers.")
  private Path drivers = Home.path("drivers");

  @Mixin private NoticeOptions notices = new NoticeOptions();

  GuardCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    Signals.ignored();
    try {
      new Watchdog(Drivers.load(drivers), BenchLock.usualFolder(), notices.way(), console::error)
          .watch(console.in());
      return ExitCode.DONE.number();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
