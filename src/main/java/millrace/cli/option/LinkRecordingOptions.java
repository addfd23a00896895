// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.MillraceException;
import millrace.link.LinkOpener;
import millrace.link.LinkRecording;
import millrace.link.LinkReplay;
import millrace.night.BenchSession;
import millrace.time.SystemClock;
import picocli.CommandLine;
import picocli.CommandLine.Option;

/** Options for recording conversations with instruments, or answering from a recording. */
public final class LinkRecordingOptions implements AutoCloseable {
  @Option(
      names = "--record",
      paramLabel = "FILE",
      description = "Keep every byte that goes over the links.")
  private Optional<Path> record = Optional.empty();

  @Option(
      names = "--replay",
      paramLabel = "FILE",
      description = "A recording answers in place of the instruments; results count as simulated.")
  private Optional<Path> replay = Optional.empty();

  @Option(
      names = "--by-pattern",
      description =
          "With --replay: give each query its next recorded answer, in any order,"
              + " instead of strictly as recorded.")
  private boolean byPattern;

  private Optional<RunSideFile> writer = Optional.empty();

  /** Refuses options that contradict each other. */
  public void check(CommandLine line, boolean simulated) {
    if (replay.isPresent() && (simulated || record.isPresent())) {
      throw new CommandLine.ParameterException(
          line, "--replay with --simulated or --record; expected it with --bench alone");
    }
    if (byPattern && replay.isEmpty()) {
      throw new CommandLine.ParameterException(
          line, "--by-pattern without --replay; expected both or neither");
    }
  }

  /** Whether a recording answers instead of the instruments. */
  public boolean replays() {
    return replay.isPresent();
  }

  /** Tells whether conversations are neither recorded nor replayed. */
  public boolean plain() {
    return record.isEmpty() && replay.isEmpty();
  }

  /** The target of the links. */
  public BenchSession.Links links() {
    if (replay.isPresent()) {
      Path file = replay.get();
      String text = new String(YamlFile.bytes(file), StandardCharsets.UTF_8);
      LinkReplay.Manner manner =
          byPattern ? LinkReplay.Manner.BY_QUESTION : LinkReplay.Manner.STRICT;
      return new BenchSession.Links(LinkReplay.of(file.toString(), text, manner).opener(), true);
    }
    return record
        .map(file -> new BenchSession.Links(recording(file), false))
        .orElse(BenchSession.Links.TO_INSTRUMENTS);
  }

  private LinkOpener recording(Path file) {
    try {
      RunSideFile begun = RunSideFile.begin(file, "--record");
      writer = Optional.of(begun);
      return LinkOpener.recording(LinkRecording.recorders(begun, new SystemClock()));
    } catch (IOException e) {
      throw cannotWrite(file, e);
    }
  }

  /**
   * The error for a recording that cannot be started.
   *
   * @param file its intended file
   * @param e the cause
   * @return the error
   */
  public static BadInputException cannotWrite(Path file, IOException e) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(file.toString()),
            "the recording cannot be written (" + FileMessageText.reason(e) + ")",
            "a place that takes it",
            "Name another file after --record."));
  }

  /** The reason why the recording is incomplete; empty while it is complete, or without one. */
  public Optional<MillraceException> lost() {
    return writer.flatMap(RunSideFile::lost);
  }

  @Override
  public void close() {
    writer.ifPresent(RunSideFile::close);
  }
}
