package millrace.cli;

import java.nio.file.Path;
import java.util.Optional;
import picocli.CommandLine.Option;

/** Who is told of a run. */
final class NoticeOptions {
  @Option(
      names = "--notify",
      paramLabel = "COMMAND",
      description =
          "Call this when the run finished, failed or needs a person, with MILLRACE_EVENT,"
              + " MILLRACE_TEXT, MILLRACE_RUN, MILLRACE_UNIT, MILLRACE_LOGBOOK and"
              + " MILLRACE_EXIT in its environment.")
  private Optional<String> command = Optional.empty();

  @Option(
      names = "--notices",
      paramLabel = "FILE",
      description = "Add a line to this file for every point and event.")
  private Optional<Path> file = Optional.empty();

  Optional<String> command() {
    return command;
  }

  Optional<Path> file() {
    return file;
  }
}
