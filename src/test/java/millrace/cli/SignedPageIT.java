// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import millrace.Needs;
import millrace.logbook.Keys;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Pages and runs that a laboratory signed, checked with its public key alone. */
class SignedPageIT {
  @TempDir private Path folder;
  private String book = "";
  private String page = "";
  private String secret = "";
  private String open = "";

  @BeforeEach
  void write() {
    book = folder.resolve("a.db").toString();
    page = folder.resolve("a.html").toString();
    Keys keys = Keys.in(folder, "lab");
    secret = keys.secret().toString();
    open = keys.open().toString();
    Spoken.done("import", "examples/fx-3-by-hand.csv", "--logbook", book);
    Spoken.done("note", "1", "released", "--sign", secret, "--logbook", book);
    Spoken.done("report", "1", "-o", page, "--sign", secret, "--logbook", book);
  }

  @Test
  void aPageIsHeldAgainstItsSignature() throws Exception {
    Spoken whole = Spoken.done("report", "--check", page, "--key", open);
    assertTrue(whole.out().startsWith("verified: "), whole.out());
    String text = Files.readString(Path.of(page));
    Files.writeString(Path.of(page), text.replace("FX3-00042", "FX3-00043"));
    Spoken changed = Spoken.by("report", "--check", page, "--key", open);
    assertEquals(5, changed.code());
    assertTrue(changed.out().startsWith("NOT verified: "), changed.out());
  }

  /** Not only Millrace can tell: any program that knows RFC 8032. */
  @Test
  void anotherProgramFindsTheSignatureGood() throws Exception {
    Needs.program("openssl");
    Process process =
        new ProcessBuilder(
                "openssl",
                "pkeyutl",
                "-verify",
                "-pubin",
                "-inkey",
                open,
                "-rawin",
                "-in",
                page,
                "-sigfile",
                page + ".sig")
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    assertEquals(0, process.waitFor());
  }

  @Test
  void aRunIsVerifiedWithTheKeyAndByWhatStandsOnThePage() throws Exception {
    Spoken said = Spoken.done("show", "1", "--verify", "--key", open, "--logbook", book);
    assertTrue(said.out().startsWith("verified: the file is whole"), said.out());
    assertTrue(said.out().contains("signed by that key up to its note"), said.out());
    String seal =
        Spoken.done("show", "1", "--logbook", book)
            .out()
            .replaceFirst("(?s).*seal +(\\w+).*", "$1");
    assertTrue(Files.readString(Path.of(page)).contains(seal), "the page carries the seal");
    Spoken.done("show", "1", "--verify", "--digest", seal.substring(0, 16), "--logbook", book);
    Spoken other =
        Spoken.by("show", "1", "--verify", "--digest", "0123456789abcdef", "--logbook", book);
    assertEquals(5, other.code());
    Keys another = Keys.in(folder, "another");
    Spoken unsigned =
        Spoken.by("show", "1", "--verify", "--key", another.open().toString(), "--logbook", book);
    assertEquals(5, unsigned.code());
    assertTrue(unsigned.err().contains("is not signed by that key"), unsigned.err());
  }
}
