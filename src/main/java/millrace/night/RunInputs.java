// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.FileRole;
import millrace.logbook.RunInputFile;
import millrace.logbook.RunReader;
import millrace.sequence.Plan;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;

/**
 * Sequence and datasheet of a run, as files and as parsed.
 *
 * @param files every file with its purpose, in the order of reading
 * @param datasheet the datasheet
 * @param loaded the sequence with its parts
 */
public record RunInputs(List<InputFile> files, Datasheet datasheet, SequenceForms.Loaded loaded) {

  /** A file that a run is made from. */
  static final class InputFile {
    private final FileRole role;
    private final String name;
    private final byte[] content;

    InputFile(FileRole role, String name, byte[] content) {
      this.role = role;
      this.name = name;
      this.content = content;
    }

    FileRole role() {
      return role;
    }

    String name() {
      return name;
    }

    byte[] content() {
      return content;
    }
  }

  /**
   * Reads the files of a new run.
   *
   * @param sequence the sequence file; its parts lie beside it
   * @param datasheet the datasheet file
   * @return the parsed files
   * @throws BadInputException if one of them does not validate
   */
  public static RunInputs read(Path sequence, Path datasheet) {
    byte[] sheet = YamlFile.bytes(datasheet);
    SequenceForms.Loaded loaded = SequenceForms.read(sequence);
    return of(loaded, new InputFile(FileRole.DATASHEET, datasheet.toString(), sheet));
  }

  /**
   * The same for a sequence that is not in a file yet.
   *
   * @param name the name of its file
   * @param sequence its text, without parts
   * @param datasheet the name of the datasheet
   * @param sheet the text of the datasheet
   * @return the parsed files
   * @throws BadInputException if one of them does not validate
   */
  public static RunInputs of(String name, String sequence, String datasheet, String sheet) {
    byte[] content = sequence.getBytes(StandardCharsets.UTF_8);
    return of(
        SequenceForms.read(Path.of(name), path -> content),
        new InputFile(FileRole.DATASHEET, datasheet, sheet.getBytes(StandardCharsets.UTF_8)));
  }

  private static RunInputs of(SequenceForms.Loaded loaded, InputFile sheet) {
    List<InputFile> files = new ArrayList<>();
    for (Map.Entry<Path, byte[]> file : loaded.files().entrySet()) {
      FileRole role = files.isEmpty() ? FileRole.SEQUENCE : FileRole.PART;
      files.add(new InputFile(role, file.getKey().toString(), file.getValue()));
    }
    files.add(sheet);
    return new RunInputs(files, DatasheetFile.read(sheet.name(), sheet.content()), loaded);
  }

  /** The files of a run in the logbook. */
  public static RunInputs of(RunReader reader) {
    Map<Path, byte[]> sequences = new LinkedHashMap<>();
    InputFile sheet = null;
    for (RunInputFile file : reader.files()) {
      if (file.role() == FileRole.SEQUENCE || file.role() == FileRole.PART) {
        sequences.put(Path.of(file.name()), reader.content(file));
      } else if (file.role() == FileRole.DATASHEET) {
        sheet = new InputFile(FileRole.DATASHEET, file.name(), reader.content(file));
      }
    }
    if (sequences.isEmpty() || sheet == null) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run " + reader.summary().id()),
              "the logbook keeps no sequence or no datasheet of it",
              "a run that was begun by 'millrace run'",
              "Imported runs cannot be resumed."));
    }
    Path first = sequences.keySet().iterator().next();
    SequenceForms.Loaded loaded = SequenceForms.read(first, p -> kept(sequences, p));
    return of(loaded, sheet);
  }

  private static byte[] kept(Map<Path, byte[]> sequences, Path wanted) {
    byte[] content = sequences.get(wanted);
    if (content == null) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(wanted.toString()),
              "the logbook does not keep this part",
              "every part of the sequence",
              "Begin a new run."));
    }
    return content;
  }

  /** The points for the filled slots. */
  public Plan plan(List<String> slots) {
    return SequenceExpansion.expand(loaded.sequence(), datasheet, slots);
  }
}
