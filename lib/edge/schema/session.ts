import { z } from "zod";

const Text = z.string().max(400).catch("");

/** The sign-in form. Nothing is refused for its shape: a name or password that is too long is simply not right. */
export const SignInForm = z.object({ signIn: Text, password: Text, next: Text });

/** The form behind an invitation link; the service says what is wrong with a name or password. */
export const JoinForm = z.object({ signIn: Text, password: Text });
