// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.SetPointGate;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchOptions;
import millrace.cli.option.LinkRecordingOptions;
import millrace.cli.option.RunSideFile;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InstrumentException;
import millrace.link.Link;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.link.LinkRecording;
import millrace.night.BenchSession;
import millrace.terminal.Console;
import millrace.terminal.EditedLineInput;
import millrace.terminal.LineInput;
import millrace.terminal.PlainLineInput;
import millrace.time.SystemClock;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Sends lines to one instrument and shows its replies. */
@Command(
    name = "talk",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Sends each line that is typed to one instrument and shows what comes back, with times.",
      "Line ends and check digits are added as the instrument's driver says. The word 'bytes' shows"
          + " them or hides them again, 'end' or the end of input leaves. Nothing is made safe"
          + " afterwards: 'millrace safe'.",
      "A line in the driver's own form that sets a supply or a chamber beyond what the bench file"
          + " allows is not sent; any other line goes out as it is typed."
    },
    footer = {
      "",
      "Examples:",
      "  millrace bench talk dmm1 --bench bench.yaml --record dmm1.recording",
      "  echo '*IDN?' | millrace bench talk dmm1 --bench bench.yaml"
    })
final class BenchTalkCommand implements Callable<Integer> {
  /** The time allowed for an unexpected reply to a line that asks nothing. */
  private static final Duration PERHAPS = Duration.ofMillis(300);

  private static final int BYTES_A_ROW = 16;
  private static final String END = "end";
  private static final String BYTES = "bytes";

  private final Console console;
  private final SystemClock clock = new SystemClock();

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "NAME", description = "The instrument's name in the bench file.")
  private String name = "";

  @Mixin private BenchOptions bench = new BenchOptions();

  @Option(names = "--bytes", description = "Show bytes from the start.")
  private boolean bytes;

  @Option(
      names = "--record",
      paramLabel = "FILE",
      description = "Keep every byte, to be answered from with --replay.")
  private Optional<Path> record = Optional.empty();

  BenchTalkCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    if (record.isEmpty()) {
      return talk(LinkRecorder.NONE);
    }
    try (RunSideFile writer = RunSideFile.begin(record.get(), "--record")) {
      int code = talk(LinkRecording.recorder(writer, clock));
      if (writer.lost().isPresent()) {
        throw writer.lost().get();
      }
      return code;
    } catch (IOException e) {
      throw LinkRecordingOptions.cannotWrite(record.get(), e);
    }
  }

  private int talk(LinkRecorder recorder) {
    LinkOpener opener = LinkOpener.recording(address -> recorder);
    try (BenchSession setting =
            bench.openAny(BenchOperator.NOBODY, new BenchSession.Links(opener, false));
        LineInput lines = lines(name)) {
      BenchFile.Entry entry = entry(setting.bench().file(), name);
      setting.hold();
      Drivers drivers = bench.drivers();
      try (Link link = drivers.plainly(entry.driver(), opener.open(entry.address()))) {
        SetPointGate gate = setting.bench().gate(name);
        converse(
            lines,
            link,
            line -> {
              drivers.refuseBeyond(entry.driver(), entry.settings(), line, gate);
              return drivers.wrapped(entry.driver(), line);
            });
      }
    }
    return ExitCode.DONE.number();
  }

  /** The instrument of that name; an unknown name is refused with the nearest known one. */
  static BenchFile.Entry entry(BenchFile file, String name) {
    BenchFile.Entry entry = file.instruments().get(name);
    if (entry == null) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("bench '" + file.name() + "'"),
              "there is no instrument " + FileMessageText.quoted(name),
              FileMessageText.oneOf(file.instruments().keySet()),
              FileMessageText.didYouMean(name, file.instruments().keySet())));
    }
    return entry;
  }

  /** Converts a line to its form on the link. */
  private interface Envelope {
    String around(String line);
  }

  /** With editing and history on a terminal, plain otherwise. */
  private LineInput lines(String name) {
    return console.interactive() ? EditedLineInput.open(name) : new PlainLineInput(console.in());
  }

  private void converse(LineInput lines, Link link, Envelope envelope) {
    for (Optional<String> line = lines.next(); line.isPresent(); line = lines.next()) {
      String text = line.get().strip();
      if (text.equals(END)) {
        return;
      } else if (text.equals(BYTES)) {
        bytes = !bytes;
        console.error("bytes are " + (bytes ? "shown" : "not shown"));
      } else if (!text.isEmpty()) {
        exchange(link, envelope, text);
      }
    }
  }

  private void exchange(Link link, Envelope envelope, String text) {
    try {
      String line = envelope.around(text);
      show(">", line);
      show("<", link.say(line, line.contains("?") ? link.timing().reply() : PERHAPS), line);
    } catch (InstrumentException | IllegalArgumentException e) {
      console.error(stamp() + " ! " + e.getMessage());
    }
    console.flush();
  }

  private void show(String direction, String came, String asked) {
    if (!came.isEmpty()) {
      show(direction, came);
    } else if (asked.contains("?")) {
      console.print(stamp() + " . nothing came");
    }
  }

  private void show(String direction, String came) {
    for (String line : came.split("(?<=\n)")) {
      console.print(stamp() + " " + direction + " " + LinkRecording.escaped(line));
    }
    if (bytes) {
      for (int at = 0; at < came.length(); at += BYTES_A_ROW) {
        console.print("    " + row(came.substring(at, Math.min(came.length(), at + BYTES_A_ROW))));
      }
    }
  }

  private static String row(String bytes) {
    StringBuilder row = new StringBuilder();
    bytes.chars().forEach(c -> row.append("%02x ".formatted(c)));
    return row.toString().strip();
  }

  private String stamp() {
    Instant now = clock.now().truncatedTo(ChronoUnit.MILLIS);
    return now.toString();
  }
}
