// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import millrace.bench.BenchLock;
import millrace.bench.driver.Drivers;
import millrace.cli.exit.Execution;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.Home;
import millrace.cli.option.NoticeOptions;
import millrace.run.watchdog.Watchdog;
import millrace.terminal.Console;
import millrace.terminal.Signals;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The watchdog, a process of its own that a run on a bench starts; people do not call it. */
@Command(name = "guard", description = "Waits for the end of a run.")
public final class GuardCommand implements Callable<Integer> {
  private final Console console;

  @Option(names = "--drivers", paramLabel = "FOLDER", description = "The folder of drivers.")
  private Path drivers = Home.path("drivers");

  @Mixin private NoticeOptions notices = new NoticeOptions();

  GuardCommand(Console console) {
    this.console = console;
  }

  /**
   * Where the watchdog's process starts.
   *
   * @param args its options
   */
  public static void main(String[] args) {
    Console console = Console.ofProcess();
    System.exit(Execution.of(new CommandLine(new GuardCommand(console)), args, console));
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
