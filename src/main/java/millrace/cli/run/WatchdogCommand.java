// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import millrace.bench.BenchLock;
import millrace.bench.driver.Drivers;
import millrace.cli.exit.CommandExecution;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.InstallationFolder;
import millrace.cli.option.NoticeOptions;
import millrace.run.watchdog.Watchdog;
import millrace.terminal.Console;
import millrace.terminal.StopSignals;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The watchdog, a process of its own that a run on a bench starts; people do not call it. */
@Command(name = "guard", description = "Waits for the end of a run.")
public final class WatchdogCommand implements Callable<Integer> {
  private final Console console;

  @Option(names = "--drivers", paramLabel = "FOLDER", description = "The folder of drivers.")
  private Path drivers = InstallationFolder.path("drivers");

  @Mixin private NoticeOptions notices = new NoticeOptions();

  WatchdogCommand(Console console) {
    this.console = console;
  }

  /**
   * The entry point of the watchdog's process.
   *
   * @param args its options
   */
  public static void main(String[] args) {
    Console console = Console.ofProcess();
    System.exit(CommandExecution.of(new CommandLine(new WatchdogCommand(console)), args, console));
  }

  @Override
  public Integer call() {
    StopSignals.ignored();
    try {
      new Watchdog(Drivers.load(drivers), BenchLock.usualFolder(), notices.way(), console::error)
          .watch(console.in());
      return ExitCode.DONE.number();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
