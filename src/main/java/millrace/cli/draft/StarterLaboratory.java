// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.util.Arrays;
import java.util.List;
import millrace.laboratory.CertificateNumbering;

/** A first laboratory file: the issuer of certificates, sheets and labels. */
public final class StarterLaboratory {
  private StarterLaboratory() {}

  /**
   * Asks the questions and writes the file.
   *
   * @param ask asks the person
   * @return the text of the file
   */
  public static String text(StarterFileInterview ask) {
    StringBuilder file = new StringBuilder();
    file.append(
        "# Who issues what leaves the house. 'millrace schema laboratory' lists every key.\n");
    line(file, "laboratory", ask.text("What is the laboratory called", ""));
    List<String> address =
        Arrays.stream(ask.text("Its address, with commas between the lines", "").split(","))
            .map(String::strip)
            .filter(l -> !l.isEmpty())
            .toList();
    file.append("address: ").append(YamlTextEscaping.list(address)).append('\n');
    line(file, "contact", ask.text("How does a customer reach it", ""));
    line(
        file,
        "certificate number",
        ask.ask(
            "How are certificates numbered",
            "{year}-{run}",
            answer -> new CertificateNumbering(answer).pattern()));
    line(file, "released by", ask.text("Who releases certificates, name and function", ""));
    return file.toString();
  }

  private static void line(StringBuilder file, String key, String value) {
    file.append(key).append(": ").append(YamlTextEscaping.of(value)).append('\n');
  }
}
