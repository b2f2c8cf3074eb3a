-- INSERT OR REPLACE also deletes the row whose rowid it names, whatever the keys say: that is one more way to lose a
-- record, and the delete trigger does not fire there while recursive_triggers is off. NEW.rowid is −1 where none is named.

DROP TRIGGER "Record_no_replace";
CREATE TRIGGER "Record_no_replace" BEFORE INSERT ON "Record"
WHEN EXISTS (SELECT 1 FROM "Record" WHERE "digest" = NEW."digest") OR EXISTS (SELECT 1 FROM "Record" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Record is append-only: this row exists'); END;

DROP TRIGGER "Head_no_replace";
CREATE TRIGGER "Head_no_replace" BEFORE INSERT ON "Head"
WHEN EXISTS (SELECT 1 FROM "Head" WHERE "projectId" = NEW."projectId" AND "size" = NEW."size") OR EXISTS (SELECT 1 FROM "Head" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Head is append-only: this row exists'); END;

DROP TRIGGER "Signature_no_replace";
CREATE TRIGGER "Signature_no_replace" BEFORE INSERT ON "Signature"
WHEN EXISTS (SELECT 1 FROM "Signature" WHERE "digest" = NEW."digest") OR EXISTS (SELECT 1 FROM "Signature" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Signature is append-only: this row exists'); END;

DROP TRIGGER "PointRecord_no_replace";
CREATE TRIGGER "PointRecord_no_replace" BEFORE INSERT ON "PointRecord"
WHEN EXISTS (SELECT 1 FROM "PointRecord" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "PointRecord" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "PointRecord" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'PointRecord is append-only: this row exists'); END;

DROP TRIGGER "Photo_no_replace";
CREATE TRIGGER "Photo_no_replace" BEFORE INSERT ON "Photo"
WHEN EXISTS (SELECT 1 FROM "Photo" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Photo" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "Photo" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Photo is append-only: this row exists'); END;

DROP TRIGGER "Document_no_replace";
CREATE TRIGGER "Document_no_replace" BEFORE INSERT ON "Document"
WHEN EXISTS (SELECT 1 FROM "Document" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Document" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "Document" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Document is append-only: this row exists'); END;

DROP TRIGGER "Reading_no_replace";
CREATE TRIGGER "Reading_no_replace" BEFORE INSERT ON "Reading"
WHEN EXISTS (SELECT 1 FROM "Reading" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Reading" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "Reading" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Reading is append-only: this row exists'); END;

DROP TRIGGER "Revision_no_replace";
CREATE TRIGGER "Revision_no_replace" BEFORE INSERT ON "Revision"
WHEN EXISTS (SELECT 1 FROM "Revision" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Revision" WHERE "projectId" = NEW."projectId" AND "letter" = NEW."letter") OR EXISTS (SELECT 1 FROM "Revision" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Revision is append-only: this row exists'); END;

DROP TRIGGER "Calibration_no_replace";
CREATE TRIGGER "Calibration_no_replace" BEFORE INSERT ON "Calibration"
WHEN EXISTS (SELECT 1 FROM "Calibration" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Calibration" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Calibration is append-only: this row exists'); END;

DROP TRIGGER "Acceptance_no_replace";
CREATE TRIGGER "Acceptance_no_replace" BEFORE INSERT ON "Acceptance"
WHEN EXISTS (SELECT 1 FROM "Acceptance" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "Acceptance" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'Acceptance is append-only: this row exists'); END;

DROP TRIGGER "CloseoutIssue_no_replace";
CREATE TRIGGER "CloseoutIssue_no_replace" BEFORE INSERT ON "CloseoutIssue"
WHEN EXISTS (SELECT 1 FROM "CloseoutIssue" WHERE "id" = NEW."id") OR EXISTS (SELECT 1 FROM "CloseoutIssue" WHERE "projectId" = NEW."projectId" AND "number" = NEW."number") OR EXISTS (SELECT 1 FROM "CloseoutIssue" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'CloseoutIssue is append-only: this row exists'); END;

DROP TRIGGER "LogEntry_no_replace";
CREATE TRIGGER "LogEntry_no_replace" BEFORE INSERT ON "LogEntry"
WHEN EXISTS (SELECT 1 FROM "LogEntry" WHERE "projectId" = NEW."projectId" AND "seq" = NEW."seq") OR EXISTS (SELECT 1 FROM "LogEntry" WHERE rowid = NEW.rowid)
BEGIN SELECT RAISE(ABORT, 'LogEntry is append-only: this row exists'); END;
