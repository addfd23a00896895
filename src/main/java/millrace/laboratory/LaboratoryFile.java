// SPDX-License-Identifier: Apache-2.0
package millrace.laboratory;

import java.nio.file.Path;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.document.yaml.YamlFile;

/** Reads laboratory files. */
public final class LaboratoryFile {
  private LaboratoryFile() {}

  /** The form of a laboratory file. */
  public static final YamlForm<Laboratory> FORM =
      YamlMapForm.of("a laboratory", LaboratoryFile::laboratory);

  /**
   * Reads a file from disk.
   *
   * @param path the file
   * @return the laboratory
   * @throws millrace.fault.BadInputException with every fault found
   */
  public static Laboratory read(Path path) {
    return FORM.readFile(path.toString(), YamlFile.bytes(path));
  }

  private static Laboratory laboratory(YamlKeys map) {
    return new Laboratory(
        map.required("laboratory", YamlForms.text("a name"), "what the laboratory is called"),
        map.required(
            "address", YamlForms.list(YamlForms.text("a line of an address"), 1), "its lines"),
        map.optional(
            "country",
            YamlForms.where(
                YamlForms.text("a country"),
                c -> c.matches("[A-Z]{2}"),
                "the two capital letters of a country, such as SE (ISO 3166-1)"),
            "where it is; a digital certificate needs it"),
        map.optional("contact", YamlForms.text("a contact"), "how a customer reaches it"),
        map.optional(
            "accreditation",
            YamlForms.text("an accreditation"),
            "what it is accredited for and by whom; without it certificates claim none"),
        map.required(
            "certificate number",
            YamlForms.parsed("a pattern of numbers", "{run}", CertificateNumbering::new),
            "how certificates are numbered, with {year}, {run}, {unit} and {uuid}; one of {run} and"
                + " {uuid} must be there"),
        map.optional(
            "place", YamlForms.text("a place"), "where it calibrates; its address unless given"),
        map.optional(
            "released by",
            YamlForms.text("a name with function"),
            "who releases certificates, name and function"),
        map.optional("statement", YamlForms.text("a sentence"), "stands on each certificate"));
  }
}
