import next from "eslint-config-next/core-web-vitals";
import typescript from "eslint-config-next/typescript";

const pureDomain = [
  { selector: "MemberExpression[object.name='Date'][property.name='now']", message: "The domain knows no clock: take the instant as a parameter." },
  { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: "The domain knows no clock: take the instant as a parameter." },
  { selector: "MemberExpression[object.name='Math'][property.name='random']", message: "The domain knows no random source." },
  { selector: "Identifier[name='process']", message: "The domain knows no process." },
  { selector: "ImportDeclaration[source.value=/^node:/]", message: "The domain knows no files, network or process." },
];

const config = [
  { ignores: [".next*/**", "node_modules/**", "lib/db/generated/**", "data/**", "next-env.d.ts", "test-results/**"] },
  ...next,
  ...typescript,
  {
    rules: {
      "@next/next/no-img-element": "off", // pictures are our own renditions, authorised on each fetch
      "@next/next/no-html-link-for-pages": "off", // links work before scripts load
      // Rules of the React compiler, which is not used here.
      "react-hooks/purity": "off",
      "react-hooks/immutability": "off",
      "react-hooks/set-state-in-effect": "off",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_", ignoreRestSiblings: true }],
    },
  },
  { files: ["lib/domain/**/*.ts"], rules: { "no-restricted-syntax": ["error", ...pureDomain] } },
  { files: ["tests/e2e/**/*.ts"], rules: { "react-hooks/rules-of-hooks": "off", "no-empty-pattern": "off" } },
];

export default config;
