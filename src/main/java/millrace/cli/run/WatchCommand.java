// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import millrace.bench.BenchForms;
import millrace.bench.BenchLock;
import millrace.cli.exit.ExitCode;
import millrace.cli.exit.InternalErrorReport;
import millrace.cli.option.InstallationFolder;
import millrace.cli.option.RunSourceOption;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.report.label.TerminalQrCode;
import millrace.terminal.Console;
import millrace.terminal.Terminal;
import millrace.watch.WatchServer;
import millrace.watch.bench.WatchedBench;
import millrace.watch.guard.AccessToken;
import millrace.watch.guard.KeyStoreFile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Serves pages of runs to browsers. */
@Command(
    name = "watch",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Serves a page for each run of a logbook, which shows it while it goes on and after. Runs are"
          + " not disturbed by it, and it outlives their end and their resume.",
      "With --from the runs of a store are shown, which nobody asks anything of.",
      "Only browsers on this machine reach it unless --listen says otherwise; then it wants a token"
          + " and TLS. The token file is made where there is none."
    },
    footer = {
      "",
      "Examples:",
      "  millrace watch --logbook night.db --bench bench.yaml",
      "  millrace watch --listen 10.0.0.2 --token-file t.txt --key-store k.p12"
    })
public final class WatchCommand implements Callable<Integer> {
  private static final int MOST = 65_535;

  private final Console console;

  @Mixin private RunSourceOption source = new RunSourceOption();

  @Option(
      names = "--bench",
      paramLabel = "FILE",
      description = "A bench that gets a page of its own, from which it can be checked.")
  private Optional<Path> bench = Optional.empty();

  @Option(
      names = "--drivers",
      paramLabel = "FOLDER",
      description = "The folder of drivers; the one beside the program unless given.")
  private Optional<Path> drivers = Optional.empty();

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "The port; 0 for any free one; ${DEFAULT-VALUE} unless given.")
  private int port = 8017;

  @Option(
      names = "--listen",
      paramLabel = "ADDRESS",
      description =
          "An address of this machine that others reach; wants --token-file and" + " --key-store.")
  private Optional<String> listen = Optional.empty();

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description = "What opens the pages; made where there is none.")
  private Optional<Path> tokenFile = Optional.empty();

  @Option(
      names = "--key-store",
      paramLabel = "FILE",
      description =
          "Key and certificate for TLS, PKCS#12; its password stands in "
              + KeyStoreFile.PASSWORD
              + ".")
  private Optional<Path> keyStore = Optional.empty();

  @Option(names = "--read-only", description = "Nothing can be asked of a run from its page.")
  private boolean readOnly;

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public WatchCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() throws InterruptedException {
    if (port < 0 || port > MOST) {
      throw wrong("--port " + port, "it is no port", "0 to " + MOST, "Name another.");
    }
    source.place().readOnly().close();
    Optional<AccessToken> token = tokenFile.map(AccessToken::in);
    WatchServer server =
        WatchServer.start(
            new WatchServer.Settings(
                source.place(),
                bench.map(this::watched),
                Optional.empty(),
                address(),
                port,
                readOnly || source.store().isPresent(),
                token,
                keyStore.map(
                    f ->
                        KeyStoreFile.open(
                            f, System.getenv().getOrDefault(KeyStoreFile.PASSWORD, "")))),
            fault -> InternalErrorReport.report(fault, console));
    Runtime.getRuntime().addShutdownHook(new Thread(server::close));
    String opening = server.address() + token.map(AccessToken::entrance).orElse("/");
    console.print(opening);
    if (token.isPresent()) {
      code(opening);
    }
    console.error(
        token.isPresent()
            ? "Open that address once in each browser: it holds the token. Serving until Ctrl-C."
            : "Open that address in a browser. Serving until Ctrl-C.");
    console.flush();
    new CountDownLatch(1).await();
    return ExitCode.DONE.number();
  }

  /**
   * The address as a code that a phone reads from the screen. A broken line would spoil it, and in
   * a file it would be a second copy of the token that nobody looks for.
   */
  private void code(String opening) {
    Terminal terminal = console.terminal();
    if (terminal.shown()
        && terminal.showsUnicode()
        && terminal.columns() >= TerminalQrCode.columns(opening)) {
      TerminalQrCode.lines(opening, terminal.toned()).forEach(console.out()::println);
    }
  }

  /** The bench file is read once here, so that a fault in it is reported at the terminal. */
  private WatchedBench watched(Path file) {
    BenchForms.read(file.toString(), YamlFile.bytes(file));
    return new WatchedBench(
        file, drivers.orElseGet(() -> InstallationFolder.path("drivers")), BenchLock.usualFolder());
  }

  private InetAddress address() {
    if (listen.isEmpty()) {
      return InetAddress.getLoopbackAddress();
    }
    try {
      return InetAddress.getByName(listen.get());
    } catch (UnknownHostException e) {
      throw wrong(
          "--listen " + listen.get(),
          "it is no address of this machine",
          "an address such as 192.168.1.20",
          "Look it up with 'ip address', or leave --listen out.");
    }
  }

  private static BadInputException wrong(String where, String found, String expected, String hint) {
    return new BadInputException(new InputFault(FilePlace.of(where), found, expected, hint));
  }
}
