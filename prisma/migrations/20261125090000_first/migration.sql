-- CreateTable
CREATE TABLE "Record" (
    "digest" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "bytes" BLOB NOT NULL
);

-- CreateTable
CREATE TABLE "LogEntry" (
    "projectId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "digest" TEXT NOT NULL,
    "bytes" BLOB NOT NULL,
    "at" DATETIME NOT NULL,
    "actor" TEXT NOT NULL,
    "type" TEXT NOT NULL,
    "refDigest" TEXT NOT NULL,

    PRIMARY KEY ("projectId", "seq")
);

-- CreateTable
CREATE TABLE "Head" (
    "projectId" TEXT NOT NULL,
    "size" INTEGER NOT NULL,
    "bytes" BLOB NOT NULL,
    "signature" TEXT NOT NULL,
    "keyId" TEXT NOT NULL,

    PRIMARY KEY ("projectId", "size")
);

-- CreateTable
CREATE TABLE "Signature" (
    "digest" TEXT NOT NULL PRIMARY KEY,
    "keyId" TEXT NOT NULL,
    "signature" TEXT NOT NULL,
    "attestation" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Project" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "settings" TEXT NOT NULL,
    "clockFrom" DATETIME
);

-- CreateTable
CREATE TABLE "Organisation" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "part" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Person" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Membership" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "roles" TEXT NOT NULL,
    "closedAt" DATETIME
);

-- CreateTable
CREATE TABLE "Qualification" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "certificate" TEXT NOT NULL,
    "expiresOn" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Revision" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "letter" TEXT NOT NULL,
    "digest" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "approvedBy" TEXT NOT NULL,
    "approvedAt" DATETIME NOT NULL,
    "appliesFrom" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Bent" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "code" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Pile" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "bentId" TEXT NOT NULL,
    "row" TEXT NOT NULL,
    "mark" TEXT NOT NULL,
    "type" TEXT NOT NULL,
    "latitude" TEXT,
    "longitude" TEXT,
    "overrides" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "startedAt" DATETIME,
    "holdsUntil" DATETIME
);

-- CreateTable
CREATE TABLE "Point" (
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "projectId" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "attempt" INTEGER NOT NULL,
    "mayBegin" BOOLEAN NOT NULL,
    "since" DATETIME,
    "holdsUntil" DATETIME,

    PRIMARY KEY ("sheet", "line")
);

-- CreateTable
CREATE TABLE "PointRecord" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "submissionId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT,
    "outcome" TEXT,
    "body" TEXT NOT NULL,
    "digest" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Photo" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "attempt" INTEGER NOT NULL,
    "subject" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "mediaType" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "seq" INTEGER NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Document" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "use" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "seq" INTEGER NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Reading" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "celsius" TEXT NOT NULL,
    "asTyped" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "enteredAt" DATETIME NOT NULL,
    "byId" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Instrument" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "mark" TEXT NOT NULL,
    "class" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Calibration" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "instrumentId" TEXT NOT NULL,
    "calibratedAt" DATETIME NOT NULL,
    "dueOn" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "seq" INTEGER NOT NULL
);

-- CreateTable
CREATE TABLE "Lot" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Acceptance" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "pileId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "body" TEXT NOT NULL,
    "digest" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "CloseoutIssue" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "byId" TEXT NOT NULL,
    "tagManifestSha256" TEXT NOT NULL,
    "body" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Draft" (
    "sheet" TEXT NOT NULL,
    "line" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "updatedAt" DATETIME NOT NULL,

    PRIMARY KEY ("sheet", "line", "personId")
);

-- CreateTable
CREATE TABLE "CloseoutFile" (
    "issueId" TEXT NOT NULL PRIMARY KEY,
    "path" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL
);

-- CreateTable
CREATE TABLE "Credential" (
    "personId" TEXT NOT NULL PRIMARY KEY,
    "signIn" TEXT NOT NULL,
    "passwordHash" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Session" (
    "tokenHash" TEXT NOT NULL PRIMARY KEY,
    "personId" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "expiresAt" DATETIME NOT NULL,
    "agent" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Invitation" (
    "tokenHash" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "organisationId" TEXT NOT NULL,
    "roles" TEXT NOT NULL,
    "invitedBy" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL,
    "expiresAt" DATETIME NOT NULL,
    "usedAt" DATETIME
);

-- CreateIndex
CREATE INDEX "Record_projectId_kind_idx" ON "Record"("projectId", "kind");

-- CreateIndex
CREATE INDEX "LogEntry_refDigest_idx" ON "LogEntry"("refDigest");

-- CreateIndex
CREATE UNIQUE INDEX "Project_code_key" ON "Project"("code");

-- CreateIndex
CREATE INDEX "Organisation_projectId_idx" ON "Organisation"("projectId");

-- CreateIndex
CREATE INDEX "Membership_personId_idx" ON "Membership"("personId");

-- CreateIndex
CREATE UNIQUE INDEX "Membership_projectId_personId_key" ON "Membership"("projectId", "personId");

-- CreateIndex
CREATE INDEX "Qualification_projectId_idx" ON "Qualification"("projectId");

-- CreateIndex
CREATE UNIQUE INDEX "Revision_projectId_letter_key" ON "Revision"("projectId", "letter");

-- CreateIndex
CREATE UNIQUE INDEX "Bent_projectId_code_key" ON "Bent"("projectId", "code");

-- CreateIndex
CREATE UNIQUE INDEX "Pile_projectId_mark_key" ON "Pile"("projectId", "mark");

-- CreateIndex
CREATE INDEX "Point_projectId_state_idx" ON "Point"("projectId", "state");

-- CreateIndex
CREATE INDEX "PointRecord_sheet_line_idx" ON "PointRecord"("sheet", "line");

-- CreateIndex
CREATE INDEX "PointRecord_submissionId_idx" ON "PointRecord"("submissionId");

-- CreateIndex
CREATE UNIQUE INDEX "PointRecord_projectId_seq_key" ON "PointRecord"("projectId", "seq");

-- CreateIndex
CREATE INDEX "Photo_sheet_line_idx" ON "Photo"("sheet", "line");

-- CreateIndex
CREATE INDEX "Photo_projectId_sha256_idx" ON "Photo"("projectId", "sha256");

-- CreateIndex
CREATE UNIQUE INDEX "Photo_projectId_seq_key" ON "Photo"("projectId", "seq");

-- CreateIndex
CREATE INDEX "Document_sheet_line_idx" ON "Document"("sheet", "line");

-- CreateIndex
CREATE INDEX "Document_projectId_sha256_idx" ON "Document"("projectId", "sha256");

-- CreateIndex
CREATE UNIQUE INDEX "Document_projectId_seq_key" ON "Document"("projectId", "seq");

-- CreateIndex
CREATE INDEX "Reading_sheet_line_idx" ON "Reading"("sheet", "line");

-- CreateIndex
CREATE UNIQUE INDEX "Reading_projectId_seq_key" ON "Reading"("projectId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "Instrument_projectId_mark_key" ON "Instrument"("projectId", "mark");

-- CreateIndex
CREATE INDEX "Calibration_instrumentId_idx" ON "Calibration"("instrumentId");

-- CreateIndex
CREATE INDEX "Calibration_projectId_idx" ON "Calibration"("projectId");

-- CreateIndex
CREATE UNIQUE INDEX "Lot_projectId_kind_number_key" ON "Lot"("projectId", "kind", "number");

-- CreateIndex
CREATE INDEX "Acceptance_projectId_idx" ON "Acceptance"("projectId");

-- CreateIndex
CREATE INDEX "Acceptance_pileId_idx" ON "Acceptance"("pileId");

-- CreateIndex
CREATE UNIQUE INDEX "CloseoutIssue_projectId_number_key" ON "CloseoutIssue"("projectId", "number");

-- CreateIndex
CREATE UNIQUE INDEX "Credential_signIn_key" ON "Credential"("signIn");

-- CreateIndex
CREATE INDEX "Session_personId_idx" ON "Session"("personId");

-- CreateIndex
CREATE INDEX "Invitation_projectId_idx" ON "Invitation"("projectId");

-- What counts is append-only. UPDATE and DELETE are refused, and so is an INSERT on a key that exists: INSERT OR REPLACE
-- deletes the old row without firing a delete trigger unless recursive_triggers is on.

CREATE TRIGGER "Record_no_update" BEFORE UPDATE ON "Record"
BEGIN SELECT RAISE(ABORT, 'Record is append-only: UPDATE refused'); END;

CREATE TRIGGER "Record_no_delete" BEFORE DELETE ON "Record"
BEGIN SELECT RAISE(ABORT, 'Record is append-only: DELETE refused'); END;

CREATE TRIGGER "Record_no_replace" BEFORE INSERT ON "Record"
WHEN EXISTS (SELECT 1 FROM "Record" WHERE "digest" = NEW."digest")
BEGIN SELECT RAISE(ABORT, 'Record is append-only: this row exists'); END;

CREATE TRIGGER "Head_no_update" BEFORE UPDATE ON "Head"
BEGIN SELECT RAISE(ABORT, 'Head is append-only: UPDATE refused'); END;

CREATE TRIGGER "Head_no_delete" BEFORE DELETE ON "Head"
BEGIN SELECT RAISE(ABORT, 'Head is append-only: DELETE refused'); END;

CREATE TRIGGER "Head_no_replace" BEFORE INSERT ON "Head"
WHEN EXISTS (SELECT 1 FROM "Head" WHERE "projectId" = NEW."projectId" AND "size" = NEW."size")
BEGIN SELECT RAISE(ABORT, 'Head is append-only: this row exists'); END;

CREATE TRIGGER "Signature_no_update" BEFORE UPDATE ON "Signature"
BEGIN SELECT RAISE(ABORT, 'Signature is append-only: UPDATE refused'); END;

CREATE TRIGGER "Signature_no_delete" BEFORE DELETE ON "Signature"
BEGIN SELECT RAISE(ABORT, 'Signature is append-only: DELETE refused'); END;

CREATE TRIGGER "Signature_no_replace" BEFORE INSERT ON "Signature"
WHEN EXISTS (SELECT 1 FROM "Signature" WHERE "digest" = NEW."digest")
BEGIN SELECT RAISE(ABORT, 'Signature is append-only: this row exists'); END;

CREATE TRIGGER "PointRecord_no_update" BEFORE UPDATE ON "PointRecord"
BEGIN SELECT RAISE(ABORT, 'PointRecord is append-only: UPDATE refused'); END;

CREATE TRIGGER "PointRecord_no_delete" BEFORE DELETE ON "PointRecord"
BEGIN SELECT RAISE(ABORT, 'PointRecord is append-only: DELETE refused'); END;

CREATE TRIGGER "PointRecord_no_replace" BEFORE INSERT ON "PointRecord"
WHEN EXISTS (SELECT 1 FROM "PointRecord" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "PointRecord" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq")
BEGIN SELECT RAISE(ABORT, 'PointRecord is append-only: this row exists'); END;

CREATE TRIGGER "Photo_no_update" BEFORE UPDATE ON "Photo"
BEGIN SELECT RAISE(ABORT, 'Photo is append-only: UPDATE refused'); END;

CREATE TRIGGER "Photo_no_delete" BEFORE DELETE ON "Photo"
BEGIN SELECT RAISE(ABORT, 'Photo is append-only: DELETE refused'); END;

CREATE TRIGGER "Photo_no_replace" BEFORE INSERT ON "Photo"
WHEN EXISTS (SELECT 1 FROM "Photo" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Photo" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq")
BEGIN SELECT RAISE(ABORT, 'Photo is append-only: this row exists'); END;

CREATE TRIGGER "Document_no_update" BEFORE UPDATE ON "Document"
BEGIN SELECT RAISE(ABORT, 'Document is append-only: UPDATE refused'); END;

CREATE TRIGGER "Document_no_delete" BEFORE DELETE ON "Document"
BEGIN SELECT RAISE(ABORT, 'Document is append-only: DELETE refused'); END;

CREATE TRIGGER "Document_no_replace" BEFORE INSERT ON "Document"
WHEN EXISTS (SELECT 1 FROM "Document" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Document" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq")
BEGIN SELECT RAISE(ABORT, 'Document is append-only: this row exists'); END;

CREATE TRIGGER "Reading_no_update" BEFORE UPDATE ON "Reading"
BEGIN SELECT RAISE(ABORT, 'Reading is append-only: UPDATE refused'); END;

CREATE TRIGGER "Reading_no_delete" BEFORE DELETE ON "Reading"
BEGIN SELECT RAISE(ABORT, 'Reading is append-only: DELETE refused'); END;

CREATE TRIGGER "Reading_no_replace" BEFORE INSERT ON "Reading"
WHEN EXISTS (SELECT 1 FROM "Reading" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Reading" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq")
BEGIN SELECT RAISE(ABORT, 'Reading is append-only: this row exists'); END;

CREATE TRIGGER "Revision_no_update" BEFORE UPDATE ON "Revision"
BEGIN SELECT RAISE(ABORT, 'Revision is append-only: UPDATE refused'); END;

CREATE TRIGGER "Revision_no_delete" BEFORE DELETE ON "Revision"
BEGIN SELECT RAISE(ABORT, 'Revision is append-only: DELETE refused'); END;

CREATE TRIGGER "Revision_no_replace" BEFORE INSERT ON "Revision"
WHEN EXISTS (SELECT 1 FROM "Revision" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Revision" WHERE "projectId" = NEW."projectId" AND "letter" = NEW."letter")
BEGIN SELECT RAISE(ABORT, 'Revision is append-only: this row exists'); END;

CREATE TRIGGER "Calibration_no_update" BEFORE UPDATE ON "Calibration"
BEGIN SELECT RAISE(ABORT, 'Calibration is append-only: UPDATE refused'); END;

CREATE TRIGGER "Calibration_no_delete" BEFORE DELETE ON "Calibration"
BEGIN SELECT RAISE(ABORT, 'Calibration is append-only: DELETE refused'); END;

CREATE TRIGGER "Calibration_no_replace" BEFORE INSERT ON "Calibration"
WHEN EXISTS (SELECT 1 FROM "Calibration" WHERE "id" = NEW."id")
BEGIN SELECT RAISE(ABORT, 'Calibration is append-only: this row exists'); END;

CREATE TRIGGER "Acceptance_no_update" BEFORE UPDATE ON "Acceptance"
BEGIN SELECT RAISE(ABORT, 'Acceptance is append-only: UPDATE refused'); END;

CREATE TRIGGER "Acceptance_no_delete" BEFORE DELETE ON "Acceptance"
BEGIN SELECT RAISE(ABORT, 'Acceptance is append-only: DELETE refused'); END;

CREATE TRIGGER "Acceptance_no_replace" BEFORE INSERT ON "Acceptance"
WHEN EXISTS (SELECT 1 FROM "Acceptance" WHERE "id" = NEW."id")
BEGIN SELECT RAISE(ABORT, 'Acceptance is append-only: this row exists'); END;

CREATE TRIGGER "CloseoutIssue_no_update" BEFORE UPDATE ON "CloseoutIssue"
BEGIN SELECT RAISE(ABORT, 'CloseoutIssue is append-only: UPDATE refused'); END;

CREATE TRIGGER "CloseoutIssue_no_delete" BEFORE DELETE ON "CloseoutIssue"
BEGIN SELECT RAISE(ABORT, 'CloseoutIssue is append-only: DELETE refused'); END;

CREATE TRIGGER "CloseoutIssue_no_replace" BEFORE INSERT ON "CloseoutIssue"
WHEN EXISTS (SELECT 1 FROM "CloseoutIssue" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "CloseoutIssue" WHERE "projectId" = NEW."projectId" AND "number" = NEW."number")
BEGIN SELECT RAISE(ABORT, 'CloseoutIssue is append-only: this row exists'); END;

CREATE TRIGGER "LogEntry_no_update" BEFORE UPDATE ON "LogEntry"
BEGIN SELECT RAISE(ABORT, 'LogEntry is append-only: UPDATE refused'); END;

CREATE TRIGGER "LogEntry_no_delete" BEFORE DELETE ON "LogEntry"
BEGIN SELECT RAISE(ABORT, 'LogEntry is append-only: DELETE refused'); END;

CREATE TRIGGER "LogEntry_no_replace" BEFORE INSERT ON "LogEntry"
WHEN EXISTS (SELECT 1 FROM "LogEntry" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq")
BEGIN SELECT RAISE(ABORT, 'LogEntry is append-only: this row exists'); END;

CREATE TRIGGER "LogEntry_no_gap" BEFORE INSERT ON "LogEntry"
WHEN NEW."seq" <> 1 + (SELECT COALESCE(MAX("seq"), 0) FROM "LogEntry" WHERE "projectId" = NEW."projectId")
BEGIN SELECT RAISE(ABORT, 'LogEntry must follow the last entry without a gap'); END;
