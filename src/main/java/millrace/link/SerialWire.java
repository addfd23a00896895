// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.time.Duration;
import millrace.fault.InstrumentException;
import millrace.time.SystemClock;

/**
 * A serial line through jSerialComm. Its time-outs are rounded up to 100 ms and wrap at 25.6 s, so
 * the deadline is held by the monotonic clock around short reads. Writes never block in the
 * library, so that a line held up by flow control ends in an error and not in a hang.
 */
final class SerialWire implements Wire {
  private static final int SLICE_MS = 100;
  private static final Duration LONGEST_WRITE = Duration.ofSeconds(5);
  private static final Duration WRITE_PAUSE = Duration.ofMillis(2);

  private final SerialPort port;
  private final PortLock lock;
  private final SystemClock clock = new SystemClock();
  private volatile boolean closed;

  private SerialWire(SerialPort port, PortLock lock) {
    this.port = port;
    this.lock = lock;
  }

  static SerialWire open(LinkAddress.Serial address) {
    SerialPort port = SerialPorts.find(address);
    PortLock lock = PortLock.take(address, port.getSystemPortPath());
    port.setComPortParameters(
        address.rate(), address.dataBits(), stopBits(address), parity(address));
    port.setFlowControl(flow(address));
    port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, SLICE_MS, 0);
    if (!port.openPort(0)) {
      lock.close();
      throw new InstrumentException(
          SerialPorts.whyClosed(address, port.getSystemPortPath(), port.getLastErrorCode()));
    }
    return new SerialWire(port, lock);
  }

  private static int stopBits(LinkAddress.Serial address) {
    return address.stopBits() == 1 ? SerialPort.ONE_STOP_BIT : SerialPort.TWO_STOP_BITS;
  }

  private static int parity(LinkAddress.Serial address) {
    return switch (address.parity()) {
      case NONE -> SerialPort.NO_PARITY;
      case EVEN -> SerialPort.EVEN_PARITY;
      case ODD -> SerialPort.ODD_PARITY;
    };
  }

  private static int flow(LinkAddress.Serial address) {
    return switch (address.flow()) {
      case NONE -> SerialPort.FLOW_CONTROL_DISABLED;
      case XON_XOFF ->
          SerialPort.FLOW_CONTROL_XONXOFF_IN_ENABLED | SerialPort.FLOW_CONTROL_XONXOFF_OUT_ENABLED;
      case RTS_CTS -> SerialPort.FLOW_CONTROL_RTS_ENABLED | SerialPort.FLOW_CONTROL_CTS_ENABLED;
    };
  }

  @Override
  public void write(byte[] buffer, int count) throws IOException {
    int done = port.writeBytes(buffer, count, 0);
    if (done < count) {
      writeOn(buffer, count, Math.max(0, done));
    }
  }

  private void writeOn(byte[] buffer, int count, int begun) throws IOException {
    SystemClock.Deadline deadline = SystemClock.deadline(LONGEST_WRITE);
    int done = begun;
    while (done < count) {
      if (deadline.passed() || closed || port.bytesAvailable() < 0) {
        throw new IOException("the serial line takes no bytes");
      }
      pause();
      done += Math.max(0, port.writeBytes(buffer, count - done, done));
    }
  }

  private void pause() throws IOException {
    try {
      clock.sleep(WRITE_PAUSE);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("was stopped while sending", e);
    }
  }

  @Override
  public int read(byte[] buffer, Duration atMost) throws IOException {
    int n = readSlice(buffer);
    if (n > 0) {
      return n;
    }
    SystemClock.Deadline deadline = SystemClock.deadline(atMost.minus(Duration.ofMillis(SLICE_MS)));
    while (!deadline.passed()) {
      n = readSlice(buffer);
      if (n > 0) {
        return n;
      }
    }
    return 0;
  }

  private int readSlice(byte[] buffer) throws IOException {
    int n = port.readBytes(buffer, buffer.length);
    if (n < 0 || closed) {
      throw new IOException("the serial line is gone");
    }
    return n;
  }

  @Override
  public int waiting() throws IOException {
    int n = port.bytesAvailable();
    if (n < 0) {
      throw new IOException("the serial line is gone");
    }
    return n;
  }

  @Override
  public boolean remembersWhenReopened() {
    return true;
  }

  @Override
  public void close() {
    closed = true;
    port.closePort();
    lock.close();
  }
}
