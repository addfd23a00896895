// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import millrace.bench.BenchForms;
import millrace.bench.driver.DriverForms;
import millrace.bench.driver.Drivers;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.InstallationFolder;
import millrace.datasheet.DatasheetFile;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.laboratory.LaboratoryFile;
import millrace.link.SerialPorts;
import millrace.sequence.SequenceForms;
import millrace.terminal.Console;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes a first file from a few questions; never changes an existing file. */
@Command(
    name = "new",
    mixinStandardHelpOptions = true,
    description = {
      "Writes a first bench, datasheet, sequence, driver or laboratory file from a few questions.",
      "A file that is there already is never overwritten. For a bench the serial ports of this"
          + " machine are listed."
    },
    footer = {"", "Example:", "  millrace new bench my-bench.yaml"})
public final class NewCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(index = "0", paramLabel = "KIND", description = "${COMPLETION-CANDIDATES}")
  private Kind kind;

  @Parameters(index = "1", paramLabel = "FILE", description = "The file to write.")
  private Path file;

  @Option(
      names = "--drivers",
      paramLabel = "FOLDER",
      description = "The folder of drivers; the one beside the program unless given.")
  private Optional<Path> drivers = Optional.empty();

  /** The kinds of draft. */
  public enum Kind {
    bench,
    datasheet,
    sequence,
    driver,
    laboratory
  }

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public NewCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    if (Files.exists(file)) {
      throw there();
    }
    console.error("Enter alone takes what stands in brackets; Ctrl-C leaves everything as it is.");
    String text = drafted();
    try {
      check(text);
    } catch (BadInputException e) {
      console.error("The answers make this file, which does not validate; nothing was written:");
      console.error(text);
      throw e;
    }
    write(text);
    console.print("written: " + file);
    return ExitCode.DONE.number();
  }

  private String drafted() {
    StarterFileInterview ask =
        new StarterFileInterview(
            new BufferedReader(new InputStreamReader(console.in(), StandardCharsets.UTF_8)),
            console.err());
    return switch (kind) {
      case bench -> StarterBenchFile.text(ask, driverNames(), ports());
      case datasheet -> StarterDatasheet.text(ask);
      case sequence -> StarterSequence.text(ask);
      case driver -> StarterDriverFile.text(ask);
      case laboratory -> StarterLaboratory.text(ask);
    };
  }

  private List<String> driverNames() {
    Path folder = drivers.orElseGet(() -> InstallationFolder.path("drivers"));
    TreeSet<String> names = new TreeSet<>(Drivers.load(folder).names());
    names.add("by hand");
    return new ArrayList<>(names);
  }

  private static List<String> ports() {
    return SerialPorts.list().stream().map(SerialPorts.Known::toString).toList();
  }

  /** The file is parsed before it is written, as every command will parse it. */
  private Object check(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    String name = file.toString();
    return switch (kind) {
      case bench -> BenchForms.read(name, bytes);
      case datasheet -> DatasheetFile.read(name, bytes);
      case sequence -> SequenceForms.read(file, path -> bytes);
      case driver -> DriverForms.DRIVER.readFile(name, bytes);
      case laboratory -> LaboratoryFile.FORM.readFile(name, bytes);
    };
  }

  private void write(String text) {
    try {
      Files.writeString(file, text, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    } catch (FileAlreadyExistsException e) {
      throw there();
    } catch (IOException e) {
      throw refusal(
          "the file cannot be written: " + FileMessageText.reason(e),
          "a folder that takes it",
          "Name another place.");
    }
  }

  private BadInputException there() {
    return refusal(
        "this file is there already",
        "a new one, since nothing is overwritten",
        "Name another file.");
  }

  private BadInputException refusal(String found, String expected, String remedy) {
    return new BadInputException(
        new InputFault(FilePlace.of(file.toString()), found, expected, remedy));
  }
}
