package org.earslot.page;

import java.lang.Thread.UncaughtExceptionHandler;
import org.jspecify.annotations.Nullable;

/**
 * Ends the process once its memory has run out. A server that lost a thread to that answers nothing any more, but looks
 * alive to whatever would start it again; {@code -XX:+ExitOnOutOfMemoryError} does the same earlier and more surely.
 */
public final class OutOfMemory {

    /** The exit status, as of {@code -XX:+ExitOnOutOfMemoryError}. */
    public static final int STATUS = 3;

    private static final int DEEPEST_CAUSE = 20;

    private OutOfMemory() {}

    /** From now on, memory that runs out in any thread and is not caught there ends the process. */
    public static void endsTheProcess() {
        UncaughtExceptionHandler before = Thread.getDefaultUncaughtExceptionHandler();
        Thread.setDefaultUncaughtExceptionHandler((thread, thrown) -> {
            endIfCauseOf(thrown);
            if (before == null) {
                // As the virtual machine does without a handler.
                System.err.print("Exception in thread \"" + thread.getName() + "\" ");
                thrown.printStackTrace();
            } else {
                before.uncaughtException(thread, thrown);
            }
        });
    }

    /** Ends the process if {@code thrown} is, or was caused by, memory that ran out; otherwise does nothing. */
    public static void endIfCauseOf(Throwable thrown) {
        @Nullable Throwable cause = thrown;
        for (int depth = 0; cause != null && depth < DEEPEST_CAUSE; depth++) {
            if (cause instanceof OutOfMemoryError) {
                // No logging and no shutdown hooks: either would need memory.
                Runtime.getRuntime().halt(STATUS);
            }
            cause = cause.getCause();
        }
    }
}
