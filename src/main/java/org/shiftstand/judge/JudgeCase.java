package org.shiftstand.judge;

import java.util.Optional;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.Spec;

/** Everything that {@link Judge#judge} needs beside the samples. */
public record JudgeCase(Spec spec, Optional<Profile> profile, JudgeOptions options) {}
