// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.basis.JudgementBasis;
import millrace.evidence.RunOrigin;
import millrace.logbook.FileRole;
import millrace.logbook.RunInputFile;

/** Files of a judgement, for the first page: name and hash of each file used. */
final class JudgementFileList {
  private final ReportContext sheet;
  private final JudgementBasis basis;
  private final boolean hashes;

  private JudgementFileList(ReportContext sheet, boolean hashes) {
    this.sheet = sheet;
    this.hashes = hashes;
    this.basis = sheet.assessment().basis();
  }

  /**
   * Adds the files to the facts of a page.
   *
   * @param hashes whether the hash of each file follows its name
   */
  static void facts(ReportContext sheet, ReportContext.Facts facts, boolean hashes) {
    JudgementFileList by = new JudgementFileList(sheet, hashes);
    by.again().ifPresent(text -> facts.fact("Judged again", text));
    facts.fact("Datasheet", by.datasheet());
    facts.fact("Bench file", by.bench());
    by.certificates().ifPresent(text -> facts.fact("Certificates", text));
  }

  private Optional<RunInputFile> own(FileRole role) {
    return sheet.run().files().stream().filter(f -> f.role() == role).reduce((a, b) -> b);
  }

  /** The file name without folders, which do not help another reader. */
  private static String bare(String name) {
    return name.substring(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
  }

  private String hashed(String sha256) {
    return hashes ? " (SHA-256 " + sha256 + ")" : "";
  }

  private boolean otherSheet() {
    return basis.datasheetSha256().isPresent()
        && !basis.datasheetSha256().equals(own(FileRole.DATASHEET).map(RunInputFile::sha256));
  }

  /** A note if the judgement uses other files than the run did, with the reason. */
  private Optional<String> again() {
    List<String> other = new ArrayList<>();
    if (otherSheet()) {
      other.add("another datasheet");
    }
    basis
        .otherBenches()
        .forEach(
            o ->
                other.add(o.instrument().map(i -> "a bench file for " + i).orElse("a bench file")));
    return other.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "by %s than the run was made with: %s"
                .formatted(String.join(" and ", other), basis.reason()));
  }

  private String datasheet() {
    if (basis.datasheet().isEmpty()) {
      return "none, so nothing was held against a limit";
    }
    String name = basis.datasheet().get().name();
    String file =
        otherSheet()
            ? ", came later"
            : own(FileRole.DATASHEET).map(f -> ", file " + bare(f.name())).orElse("");
    return name + file + basis.datasheetSha256().map(this::hashed).orElse("");
  }

  private String bench() {
    Optional<RunInputFile> own = own(FileRole.BENCH);
    if (basis.benchName().isEmpty()) {
      return sheet.start().origin() == RunOrigin.IMPORTED
          ? "none: what the readings are worth is what their file states"
          : "none";
    }
    List<String> files = new ArrayList<>();
    boolean replaced = basis.otherBenches().stream().anyMatch(o -> o.instrument().isEmpty());
    own.filter(f -> !replaced)
        .ifPresent(f -> files.add("file " + bare(f.name()) + hashed(f.sha256())));
    basis
        .otherBenches()
        .forEach(
            o ->
                files.add(
                    "came later"
                        + o.instrument().map(i -> " for " + i).orElse("")
                        + hashed(o.sha256())));
    return basis.benchName().get() + ", " + String.join("; ", files);
  }

  private Optional<String> certificates() {
    List<String> all = basis.certificates();
    return basis.benchName().map(b -> all.isEmpty() ? "none" : String.join("; ", all));
  }
}
