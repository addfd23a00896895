// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.net.InetAddress;
import java.nio.file.Path;
import java.util.Optional;
import millrace.cli.exit.InternalErrorReport;
import millrace.logbook.LogbookPlace;
import millrace.terminal.Console;
import millrace.terminal.TypedLineReader;
import millrace.watch.WatchServer;
import millrace.watch.shift.EntryLine;
import millrace.watch.shift.ShiftState;
import picocli.CommandLine;
import picocli.CommandLine.Option;

/** The page of a shift beside the terminal, and its port. */
final class ShiftPageOptions {
  private static final int USUAL_PORT = 8018;

  @Option(
      names = "--page",
      description =
          "A page beside the terminal, for a browser on this machine: the outcome to be read from"
              + " afar, and a field that takes scans.")
  private boolean page;

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "The port of the page; 0 for any free one; " + USUAL_PORT + " unless given.")
  private Optional<Integer> port = Optional.empty();

  /** Refuses a port without a page, and an invalid port. */
  void refuse(CommandLine line) {
    if (port.isPresent() && !page) {
      throw new CommandLine.ParameterException(
          line, "--port without --page; expected both, as it is the port of the page");
    }
    if (port.filter(p -> p < 0 || p > 65_535).isPresent()) {
      throw new CommandLine.ParameterException(
          line, "--port %s is outside 0 to 65535; expected another".formatted(port.get()));
    }
  }

  /** The typed lines of a console, as the input of a page. */
  static EntryLine entries(Console console) {
    TypedLineReader lines = TypedLineReader.at(console);
    return new EntryLine() {
      @Override
      public void enter(String line) {
        lines.enter(line);
      }

      @Override
      public void withdraw() {
        lines.withdraw();
      }
    };
  }

  /**
   * Serves the page if requested, and prints its address.
   *
   * @return closes the page
   */
  Served serve(Console console, Path logbook, ShiftState state) {
    if (!page) {
      return new Served(Optional.empty(), state);
    }
    WatchServer server =
        WatchServer.start(
            new WatchServer.Settings(
                LogbookPlace.of(logbook),
                Optional.empty(),
                Optional.of(state),
                InetAddress.getLoopbackAddress(),
                port.orElse(USUAL_PORT),
                false,
                Optional.empty(),
                Optional.empty()),
            fault -> InternalErrorReport.report(fault, console));
    console.print("The page of this shift: " + server.address() + "/shift");
    return new Served(Optional.of(server), state);
  }

  /** A served page, or none. */
  record Served(Optional<WatchServer> server, ShiftState state) implements AutoCloseable {
    @Override
    public void close() {
      state.end();
      server.ifPresent(WatchServer::close);
    }
  }
}
