package millrace.assessment;

import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.logbook.FileRole;
import millrace.logbook.RunFile;
import millrace.logbook.RunReader;

/**
 * What a run is judged by: the files that the logbook keeps of it.
 *
 * @param datasheet what the unit promises; empty for an import without one
 * @param bench the instruments; empty for an import
 * @param datasheetSha256 hash of the datasheet's file
 */
public record Basis(
    Optional<Datasheet> datasheet, Optional<BenchFile> bench, Optional<String> datasheetSha256) {

  /**
   * Reads the files of a run out of its logbook.
   *
   * @param reader the run
   * @return its datasheet and bench
   * @throws millrace.fault.BadInputException if a stored file is no longer understood
   */
  public static Basis of(RunReader reader) {
    Optional<RunFile> sheet = file(reader, FileRole.DATASHEET);
    Optional<RunFile> bench = file(reader, FileRole.BENCH);
    return new Basis(
        sheet.map(f -> DatasheetFile.read(f.name(), reader.content(f))),
        bench.map(f -> BenchForms.read(f.name(), reader.content(f))),
        sheet.map(RunFile::sha256));
  }

  private static Optional<RunFile> file(RunReader reader, FileRole role) {
    return reader.files().stream().filter(f -> f.role() == role).reduce((a, b) -> b);
  }

  /**
   * This basis with another datasheet.
   *
   * @param sheet the datasheet
   * @param sha256 hash of its file
   * @return the basis to judge by
   */
  public Basis with(Datasheet sheet, String sha256) {
    return new Basis(Optional.of(sheet), bench, Optional.of(sha256));
  }

  /**
   * T_ref.
   *
   * @return degC; the usual one without a datasheet
   */
  public double referenceDegC() {
    return datasheet
        .map(Datasheet::referenceTemperatureDegC)
        .orElse(Datasheet.DEFAULT_REFERENCE_DEGC);
  }

  /**
   * The probability of stated intervals.
   *
   * @return above 0.5 and below 1
   */
  public double coverage() {
    return datasheet.map(Datasheet::coverage).orElse(Datasheet.DEFAULT_COVERAGE);
  }
}
