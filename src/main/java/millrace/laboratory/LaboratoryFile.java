// SPDX-License-Identifier: Apache-2.0
package millrace.laboratory;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.document.yaml.YamlFile;

/** Reads laboratory files. */
public final class LaboratoryFile {
  private LaboratoryFile() {}

  /** How a laboratory file is written. */
  public static final YamlForm<Laboratory> FORM = form();

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

  private static YamlForm<Laboratory> form() {
    YamlMapForm.Builder map = YamlMapForm.of("a laboratory");
    Key<String> name =
        map.required("laboratory", YamlForms.text("a name"), "what the laboratory is called");
    Key<List<String>> address =
        map.required(
            "address", YamlForms.list(YamlForms.text("a line of an address"), 1), "its lines");
    Key<Optional<String>> contact =
        map.optional("contact", YamlForms.text("a contact"), "how a customer reaches it");
    Key<Optional<String>> accreditation =
        map.optional(
            "accreditation",
            YamlForms.text("an accreditation"),
            "what it is accredited for and by whom; without it certificates claim none");
    Key<CertificateNumbering> numbering =
        map.required(
            "certificate number",
            YamlForms.map(YamlForms.text("a pattern of numbers"), CertificateNumbering::new),
            "how certificates are numbered, with {year}, {run}, {unit} and {uuid}; one of {run} and"
                + " {uuid} must be there");
    Key<Optional<String>> place =
        map.optional(
            "place", YamlForms.text("a place"), "where it calibrates; its address unless given");
    Key<Optional<String>> released =
        map.optional(
            "released by",
            YamlForms.text("a name with function"),
            "who releases certificates, name and function");
    Key<Optional<String>> statement =
        map.optional("statement", YamlForms.text("a sentence"), "stands on each certificate");
    return map.reads(
        v ->
            new Laboratory(
                v.get(name),
                v.get(address),
                v.get(contact),
                v.get(accreditation),
                v.get(numbering),
                v.get(place),
                v.get(released),
                v.get(statement)));
  }
}
