// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.net.URI;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.run.notice.Notices;
import picocli.CommandLine.Option;

/** The recipients of notices of a run. */
public final class NoticeOptions {
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

  @Option(
      names = "--notify-url",
      paramLabel = "URL",
      description = "Post the same facts there as JSON; tried three times.")
  private Optional<URI> web = Optional.empty();

  /** The options to repeat when a run is resumed. */
  public List<String> again() {
    List<String> words = new ArrayList<>();
    command.ifPresent(c -> words.addAll(List.of("--notify", c)));
    file.ifPresent(f -> words.addAll(List.of("--notices", CommandToType.path(f))));
    web.ifPresent(u -> words.addAll(List.of("--notify-url", u.toString())));
    return words;
  }

  /** The destinations of notices. */
  public Notices.Way way() {
    return new Notices.Way(command, file, web);
  }

  /** The same options for another process. */
  public List<String> words() {
    List<String> words = new ArrayList<>();
    command.ifPresent(c -> words.addAll(List.of("--notify", c)));
    file.ifPresent(f -> words.addAll(List.of("--notices", f.toAbsolutePath().toString())));
    web.ifPresent(u -> words.addAll(List.of("--notify-url", u.toString())));
    return words;
  }
}
