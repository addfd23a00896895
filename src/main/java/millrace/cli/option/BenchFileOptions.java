// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import millrace.bench.driver.Drivers;
import millrace.document.yaml.YamlFile;
import millrace.night.SimulatedBenchSession;
import picocli.CommandLine;
import picocli.CommandLine.Option;

/** The bench of a command that touches no bench. */
public class BenchFileOptions {
  @Option(names = "--bench", paramLabel = "FILE", description = "The instruments to use.")
  private Optional<Path> file = Optional.empty();

  @Option(
      names = "--simulated",
      description = "Use the simulated bench, in virtual time; results say so.")
  private boolean simulated;

  @Option(
      names = "--drivers",
      paramLabel = "FOLDER",
      description = "The folder of drivers; the one beside the program unless given.")
  private Optional<Path> folder = Optional.empty();

  /** The bench file; empty for the simulated bench. */
  public Optional<Path> file() {
    return file;
  }

  /** The name of the bench file. */
  public String name() {
    return simulated ? SimulatedBenchSession.NAME : file.orElseThrow().toString();
  }

  /** The content of the bench file; that of the simulated bench has placeholder ports. */
  public byte[] content() {
    return simulated
        ? SimulatedBenchSession.anyPorts().getBytes(StandardCharsets.UTF_8)
        : YamlFile.bytes(file.orElseThrow());
  }

  /** Whether the simulated bench was requested. */
  public boolean simulated() {
    return simulated;
  }

  /** The known drivers. */
  public Drivers drivers() {
    return Drivers.load(folder());
  }

  /** The folder of drivers, if one was given. */
  Optional<Path> askedFolder() {
    return folder;
  }

  /** The folder of drivers. */
  public Path folder() {
    return folder.orElseGet(() -> InstallationFolder.path("drivers"));
  }

  /**
   * Refuses a command without a bench, or with two.
   *
   * @param line the command, for its help
   */
  public void refuseNone(CommandLine line) {
    if (file.isPresent() == simulated) {
      throw new CommandLine.ParameterException(
          line,
          "%s; expected either --bench FILE or --simulated"
              .formatted(simulated ? "both --bench and --simulated" : "no bench"));
    }
  }
}
