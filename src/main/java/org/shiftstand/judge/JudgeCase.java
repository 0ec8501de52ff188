package org.shiftstand.judge;

import java.util.Optional;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.Spec;

/** Everything that {@link Judge#judge} needs beside the samples, and what its report tells beside the results. */
public record JudgeCase(Spec spec, Optional<Profile> profile, JudgeOptions options, Circumstances circumstances) {}
