// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.function.BiConsumer;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.lock.LockHolder;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The serial link over a pair of pseudo-terminals. */
class SerialLinkIT extends LinkContract {
  @TempDir private Path folder;
  private PtyPair pair;
  private Peer peer;
  private Link opened;

  @BeforeEach
  void openPair() throws Exception {
    pair = PtyPair.open(folder);
  }

  @AfterEach
  void closePair() throws Exception {
    if (opened != null) {
      opened.close();
    }
    if (pair != null) {
      pair.close();
    }
  }

  private LinkAddress address() {
    return LinkAddress.parse("serial " + pair.near() + " 115200");
  }

  @Override
  Link linkTo(BiConsumer<String, Peer.Mouth> manner, Framing framing) throws Exception {
    peer = Peer.at(pair, manner);
    opened = new Link(address(), framing, QUICK, LinkRecorder.NONE);
    return opened;
  }

  @Override
  List<String> heard() {
    return peer.heard();
  }

  @Test
  void aPortThatIsPulledAndPutBackIsOpenedAnew() throws Exception {
    Link link = linkTo((line, mouth) -> mouth.say("ok\n"), Framing.LINES);
    assertEquals("ok", link.ask("A?"));
    pair.pullOut();
    trouble(Kind.BROKEN, () -> link.ask("A?"));
    pair.plugIn();
    peer = Peer.at(pair, (line, mouth) -> mouth.say("back\n"));
    assertEquals("back", link.ask("A?"));
    assertEquals(2, link.epoch());
  }

  @Test
  void aPortThatStaysAwaySaysSo() throws Exception {
    Link link = linkTo((line, mouth) -> mouth.say("ok\n"), Framing.LINES);
    assertEquals("ok", link.ask("A?"));
    pair.pullOut();
    trouble(Kind.BROKEN, () -> link.ask("A?"));
    InstrumentTrouble trouble = trouble(Kind.UNREACHABLE, () -> link.ask("A?"));
    assertTrue(trouble.found().startsWith("there is no such port"), trouble.message());
    assertEquals(20, trouble.attempt());
  }

  @Test
  void aPortThatAnotherLinkHoldsIsNotTakenTwice() throws Exception {
    Link link = linkTo((line, mouth) -> mouth.say("ok\n"), Framing.LINES);
    assertEquals("ok", link.ask("A?"));
    try (Link second = new Link(address(), Framing.LINES, QUICK, LinkRecorder.NONE)) {
      InstrumentTrouble trouble = trouble(Kind.UNREACHABLE, () -> second.ask("A?"));
      assertEquals(
          "the port is held by another link of this run (" + LockHolder.thisProcess() + ")",
          trouble.found());
    }
    link.close();
    opened = new Link(address(), Framing.LINES, QUICK, LinkRecorder.NONE);
    assertEquals("ok", opened.ask("A?"));
  }

  @Test
  void theProcessThatHasThePortOpenIsFound() throws Exception {
    Path real = pair.far().toRealPath();
    Process holder =
        new ProcessBuilder("sh", "-c", "exec sleep 60 < " + real)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    try {
      List<String> holders = List.of();
      while (holders.stream().noneMatch(h -> h.contains("(process " + holder.pid() + ")"))) {
        holders = SerialPorts.holders(pair.far());
      }
      LinkAddress.Serial address = (LinkAddress.Serial) address();
      InstrumentTrouble trouble = SerialPorts.whyClosed(address, pair.far().toString(), 16);
      assertTrue(trouble.found().contains("(process " + holder.pid() + ")"), trouble.message());
    } finally {
      holder.destroyForcibly();
    }
  }

  @Test
  void aPortWithoutPermissionNamesTheGroupToJoin() throws Exception {
    Path file = java.nio.file.Files.createFile(folder.resolve("port"));
    String group =
        java.nio.file.Files.readAttributes(file, java.nio.file.attribute.PosixFileAttributes.class)
            .group()
            .getName();
    LinkAddress.Serial address = (LinkAddress.Serial) address();
    assertEquals(
        address
            + ": this user may not open the port; expected permission to read and write "
            + file
            + ". Join the group '"
            + group
            + "' (sudo usermod -aG "
            + group
            + " $USER), log in again.",
        SerialPorts.whyClosed(address, file.toString(), 13).message());
  }
}
