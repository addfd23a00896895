// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.io.File;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import millrace.bench.BenchLock;
import millrace.cli.option.NoticeOptions;
import millrace.fault.InstrumentException;
import millrace.logbook.Logbook;
import millrace.night.BenchSession;
import millrace.run.control.RunObserver;
import millrace.run.watchdog.WatchdogPipe;
import millrace.terminal.Console;

/** The watchdog of a run: a process of its own that outlives this one. One thread at a time. */
final class WatchdogProcess implements RunObserver, AutoCloseable {
  private final Optional<WatchdogPipe> pipe;
  private final Path logbook;
  private final Console console;

  private WatchdogProcess(Optional<WatchdogPipe> pipe, Path logbook, Console console) {
    this.pipe = pipe;
    this.logbook = logbook;
    this.console = console;
  }

  /** Starts one, except where the bench ends with this process. */
  static WatchdogProcess of(
      BenchSession setting, List<String> words, Path logbook, Console console) {
    Optional<WatchdogPipe> pipe =
        setting.ownProcess() ? Optional.empty() : Optional.of(pipe(setting, words));
    return new WatchdogProcess(pipe, logbook, console);
  }

  /** The options that the watchdog needs. */
  static List<String> words(Path drivers, NoticeOptions notices) {
    List<String> words = new ArrayList<>(List.of("--drivers", drivers.toString()));
    words.addAll(notices.words());
    return words;
  }

  private static WatchdogPipe pipe(BenchSession setting, List<String> words) {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "--enable-native-access=ALL-UNNAMED",
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-Xmx96m",
                "-Duser.home=" + System.getProperty("user.home", "."),
                "-Dmillrace.user=" + BenchLock.usualFolder(),
                "-cp",
                System.getProperty("java.class.path"),
                WatchdogCommand.class.getName()));
    command.addAll(words);
    try {
      Process process =
          new ProcessBuilder(command)
              .redirectOutput(ProcessBuilder.Redirect.DISCARD)
              .redirectError(ProcessBuilder.Redirect.INHERIT)
              .start();
      return new WatchdogPipe(process.getOutputStream(), setting.name(), setting.content());
    } catch (IOException e) {
      throw new InstrumentException(
          "the watchdog cannot be started (%s); expected a second process beside this one. Check that '%s' may be run."
              .formatted(e.getMessage(), command.get(0).replace('/', File.separatorChar)),
          e);
    }
  }

  @Override
  public void began(long run, int points, int done) {
    pipe.ifPresent(l -> l.run(run, uuid(run), logbook));
    tell();
  }

  private UUID uuid(long run) {
    try (Logbook book = Logbook.readOnly(logbook)) {
      return book.reader(run).summary().uuid();
    }
  }

  @Override
  public void close() {
    pipe.ifPresent(WatchdogPipe::close);
    tell();
  }

  private void tell() {
    pipe.flatMap(WatchdogPipe::trouble)
        .ifPresent(
            t ->
                console.error(
                    "millrace: the watchdog is gone (%s); nobody makes the bench safe if this process dies."
                        .formatted(t)));
  }
}
