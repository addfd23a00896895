// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static millrace.link.LinkContract.trouble;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.UnaryOperator;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A line that speaks Modbus RTU, over a pair of pseudo-terminals, to a device that is strict. */
@Timeout(60)
class RtuLinkIT {
  private static final String ASK = "010300000001";
  private static final LinkTimeouts TIMING =
      LinkContract.QUICK.replyingWithin(Duration.ofMillis(600));

  @TempDir private Path folder;
  private PtyPair pair;
  private Link link;

  @BeforeEach
  void openPair() throws Exception {
    pair = PtyPair.open(folder);
  }

  @AfterEach
  void closePair() throws Exception {
    if (link != null) {
      link.close();
    }
    if (pair != null) {
      pair.close();
    }
  }

  private RtuPeer device(int rate, UnaryOperator<String> manner) throws Exception {
    RtuPeer device = RtuPeer.at(pair, manner);
    LinkAddress address = LinkAddress.parse("serial " + pair.near() + " " + rate);
    link = new Link(address, Framing.MODBUS_RTU, TIMING, LinkRecorder.NONE);
    return device;
  }

  /** Line ends and XON are bytes like any others. */
  @Test
  void everyByteGoesThroughBothWays() throws Exception {
    RtuPeer device = device(19200, f -> RtuPeer.checked("0103060A0D11132300"));
    assertEquals("0103060A0D11132300", link.ask("01100A0D0001020D0A"));
    assertEquals(List.of("01100A0D0001020D0A"), device.heard());
  }

  @Test
  void wrongCheckBytesAreNoReply() throws Exception {
    AtomicInteger asked = new AtomicInteger();
    device(
        19200,
        f -> asked.getAndIncrement() == 0 ? "010302FF9C0000" : RtuPeer.checked("010302FF9C"));
    InstrumentTrouble trouble = trouble(Kind.WRONG_REPLY, () -> link.ask(ASK));
    assertTrue(
        trouble.message().contains("the reply to \"" + ASK + "\" has check bytes 0000 instead of"),
        trouble.message());
    assertEquals("010302FF9C", link.ask(ASK));
  }

  @Test
  void noiseBeforeAReplyIsNoReply() throws Exception {
    AtomicInteger asked = new AtomicInteger();
    device(19200, f -> (asked.getAndIncrement() == 0 ? "00" : "") + RtuPeer.checked("010302FF9C"));
    trouble(Kind.WRONG_REPLY, () -> link.ask(ASK));
    assertEquals("010302FF9C", link.ask(ASK));
  }

  @Test
  void aSecondFrameBehindAReplyCastsDoubtOnIt() throws Exception {
    AtomicInteger asked = new AtomicInteger();
    String reply = RtuPeer.checked("0103020001");
    device(19200, f -> asked.getAndIncrement() == 0 ? reply + reply : reply);
    assertEquals("0103020001", link.ask(ASK));
    trouble(Kind.OUT_OF_STEP, () -> link.ask(ASK));
    assertEquals("0103020001", link.ask(ASK));
  }

  @Test
  void aReplyThatArrivesLateNeverAnswersTheNextQuestion() throws Exception {
    AtomicInteger asked = new AtomicInteger();
    CountDownLatch gaveUp = new CountDownLatch(1);
    device(
        19200,
        f -> {
          int n = asked.getAndIncrement();
          if (n == 0) {
            await(gaveUp);
          }
          return RtuPeer.checked("01030200%02X".formatted(n));
        });
    trouble(Kind.NO_REPLY, () -> link.ask(ASK));
    gaveUp.countDown();
    assertEquals("0103020001", link.ask(ASK));
    assertEquals("0103020002", link.ask(ASK));
  }

  private static void await(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /**
   * A broadcast has no reply; glued to the next frame, a strict device would understand neither.
   */
  @Test
  void framesWithoutReplyAreKeptApart() throws Exception {
    RtuPeer device = device(300, f -> f.startsWith("00") ? "" : RtuPeer.checked("0103020001"));
    link.send("000600010005");
    assertEquals("0103020001", link.ask(ASK));
    assertEquals(List.of("000600010005", ASK), device.heard());
  }
}
