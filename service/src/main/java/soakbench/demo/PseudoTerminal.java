package soakbench.demo;

import com.sun.jna.LastErrorException;
import com.sun.jna.Memory;
import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import com.sun.jna.Platform;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * A serial port without hardware: the device's end of a pseudo-terminal. Whatever is written here
 * is read by the program that opens {@link #path()}, as if a tracker were plugged in there. Linux
 * only.
 *
 * <p>Like a real tracker it never waits for a reader: what doesn't fit is dropped. Thread-safe.
 */
public final class PseudoTerminal implements AutoCloseable {
  private static final int EINTR = 4;
  private static final int EIO = 5;
  private static final int EAGAIN = 11;
  private static final int READ_SIZE = 4096;

  private final String path;
  private int fd;

  /**
   * Opens a new pseudo-terminal.
   *
   * @throws IOException if the system has none, or none left
   */
  public PseudoTerminal() throws IOException {
    if (!Platform.isLinux()) {
      throw new IOException("pseudo-terminals are opened by calls that only Linux has");
    }
    try {
      fd = LibC.open();
    } catch (LastErrorException e) {
      throw new IOException("no pseudo-terminal could be opened: " + e.getMessage(), e);
    }
    try {
      path = LibC.prepare(fd);
    } catch (LastErrorException e) {
      close();
      throw new IOException("the new pseudo-terminal could not be set up: " + e.getMessage(), e);
    }
  }

  /** The path that the reading program opens; free for others again after {@link #close()}. */
  public String path() {
    return path;
  }

  /** Sends text as UTF-8; see {@link #write(byte[])}. */
  public int write(String text) {
    return write(text.getBytes(StandardCharsets.UTF_8));
  }

  /**
   * Sends bytes to whoever has the port open, or will open it. Never waits.
   *
   * @return how many bytes, counted from the first, were taken; the others are dropped because
   *     nobody reads (some 20 kB fit)
   * @throws IllegalStateException if closed
   */
  public synchronized int write(byte[] bytes) {
    requireOpen();
    while (true) {
      try {
        return LibC.write(fd, bytes, new NativeLong(bytes.length)).intValue();
      } catch (LastErrorException e) {
        if (e.getErrorCode() == EAGAIN) {
          return 0;
        }
        if (e.getErrorCode() != EINTR) {
          throw new UncheckedIOException(new IOException("writing to " + path + " failed", e));
        }
      }
    }
  }

  /**
   * Takes what the other side has sent since the last call. Never waits.
   *
   * @return up to 4096 bytes; empty where nothing came or nobody has the port open
   * @throws IllegalStateException if closed
   */
  public synchronized byte[] read() {
    requireOpen();
    byte[] buffer = new byte[READ_SIZE];
    while (true) {
      try {
        return Arrays.copyOf(buffer, LibC.read(fd, buffer, new NativeLong(READ_SIZE)).intValue());
      } catch (LastErrorException e) {
        if (e.getErrorCode() == EAGAIN || e.getErrorCode() == EIO) {
          return new byte[0];
        }
        if (e.getErrorCode() != EINTR) {
          throw new UncheckedIOException(new IOException("reading from " + path + " failed", e));
        }
      }
    }
  }

  /** Takes the port away, as if it was unplugged: the reading program sees an error. */
  @Override
  public synchronized void close() {
    if (fd >= 0) {
      int closing = fd;
      fd = -1;
      LibC.close(closing);
    }
  }

  private void requireOpen() {
    if (fd < 0) {
      throw new IllegalStateException("the pseudo-terminal " + path + " is closed");
    }
  }

  /** The calls of the C library; those that may fail throw the error number. */
  private static final class LibC {
    private static final int O_RDWR = 2;
    private static final int O_NOCTTY = 0x100;
    private static final int O_NONBLOCK = 0x800;
    private static final int O_CLOEXEC = 0x80000;
    private static final int TCSANOW = 0;

    /** Larger than {@code struct termios} of any C library in use (60 bytes in glibc). */
    private static final int TERMIOS_SIZE = 256;

    private static final int PATH_SIZE = 128;

    static {
      Native.register(LibC.class, "c");
    }

    private LibC() {}

    static int open() {
      // Close-on-exec: a child process that inherits this end would keep the port alive.
      return posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    }

    /** Makes it usable and raw: a cooked one would echo the device's own lines back at it. */
    static String prepare(int fd) {
      grantpt(fd);
      unlockpt(fd);
      try (Memory termios = new Memory(TERMIOS_SIZE)) {
        tcgetattr(fd, termios);
        cfmakeraw(termios);
        tcsetattr(fd, TCSANOW, termios);
      }
      byte[] name = new byte[PATH_SIZE];
      int error = ptsname_r(fd, name, new NativeLong(PATH_SIZE));
      if (error != 0) {
        throw new LastErrorException(error);
      }
      return Native.toString(name, StandardCharsets.US_ASCII.name());
    }

    static native int posix_openpt(int flags) throws LastErrorException;

    static native int grantpt(int fd) throws LastErrorException;

    static native int unlockpt(int fd) throws LastErrorException;

    static native int ptsname_r(int fd, byte[] path, NativeLong size);

    static native int tcgetattr(int fd, Memory termios) throws LastErrorException;

    static native void cfmakeraw(Memory termios);

    static native int tcsetattr(int fd, int when, Memory termios) throws LastErrorException;

    static native NativeLong read(int fd, byte[] buffer, NativeLong size) throws LastErrorException;

    static native NativeLong write(int fd, byte[] bytes, NativeLong size) throws LastErrorException;

    static native int close(int fd) throws LastErrorException;
  }
}
