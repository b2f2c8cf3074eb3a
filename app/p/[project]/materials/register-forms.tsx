"use client";

import { Choice } from "../../../_ui/choice";
import { SelectField, TextField } from "../../../_ui/field";
import { ActionForm, type FormAction } from "../action-form";

interface Offered {
  id: string;
  list: readonly string[];
}

/** Words that the plan asks for, offered while typing and not forced. */
function Offers({ id, list }: Offered) {
  return <datalist id={id}>{list.map((word) => <option key={word} value={word} />)}</datalist>;
}

export function LotForm({ action, id, kinds, today }: { action: FormAction; id: string; kinds: readonly string[]; today: string }) {
  return (
    <ActionForm action={action} name="lot" submit="Receive this lot" label="Receive a lot" opener="Receive a lot" fields={(values, errors) => (
      <div className="form-grid">
        <input type="hidden" name="id" value={id} />
        <TextField id="lot-number" name="number" label="Number on the label" defaultValue={values.number} error={errors.number} />
        <TextField id="lot-lotKind" name="lotKind" label="Kind" list="lot-kinds" defaultValue={values.lotKind} error={errors.lotKind} />
        <Offers id="lot-kinds" list={kinds} />
        <TextField id="lot-certificate" name="certificate" label="Certificate" hint="Without one the lot does not count." defaultValue={values.certificate} error={errors.certificate} />
        <TextField id="lot-quantity" name="quantity" label="Quantity" defaultValue={values.quantity} error={errors.quantity} />
        <TextField id="lot-receivedOn" name="receivedOn" type="date" max={today} label="Received on" defaultValue={values.receivedOn} error={errors.receivedOn} />
        <TextField id="lot-expiresOn" name="expiresOn" type="date" label="Expires on" hint="Empty where none is stated." defaultValue={values.expiresOn} error={errors.expiresOn} />
      </div>
    )} />
  );
}

export function InstrumentForm({ action, id, classes, units }: { action: FormAction; id: string; classes: readonly string[]; units: readonly string[] }) {
  return (
    <ActionForm action={action} name="instrument" submit="Register this instrument" label="Register an instrument" opener="Register an instrument" fields={(values, errors) => (
      <div className="form-grid">
        <input type="hidden" name="id" value={id} />
        <TextField id="instrument-mark" name="mark" label="Mark" hint="As it stands on the instrument: TW-1." defaultValue={values.mark} error={errors.mark} />
        <TextField id="instrument-class" name="class" label="Class" list="instrument-classes" defaultValue={values.class} error={errors.class} />
        <Offers id="instrument-classes" list={classes} />
        <TextField id="instrument-name" name="name" label="What it is" defaultValue={values.name} error={errors.name} />
        <TextField id="instrument-unit" name="unit" label="Unit of range and accuracy" list="instrument-units" defaultValue={values.unit} error={errors.unit} />
        <Offers id="instrument-units" list={units} />
        <TextField id="instrument-rangeMin" name="rangeMin" inputMode="decimal" label="Range from" defaultValue={values.rangeMin} error={errors.rangeMin} />
        <TextField id="instrument-rangeMax" name="rangeMax" inputMode="decimal" label="Range to" defaultValue={values.rangeMax} error={errors.rangeMax} />
        <TextField id="instrument-accuracyValue" name="accuracyValue" inputMode="decimal" label="Accuracy, plus or minus" defaultValue={values.accuracyValue} error={errors.accuracyValue} />
        <Choice
          id="instrument-accuracyKind" name="accuracyKind" legend="Accuracy is" inRow chosen={values.accuracyKind} error={errors.accuracyKind}
          options={[{ value: "per cent", label: "per cent of the value" }, { value: "absolute", label: "in its unit" }]}
        />
      </div>
    )} />
  );
}

export function CalibrationForm({ action, id, instruments }: { action: FormAction; id: string; instruments: readonly { id: string; mark: string; kind: string }[] }) {
  return (
    <ActionForm action={action} name="calibration" submit="Record this calibration" label="Record a calibration" opener="Record a calibration" fields={(values, errors) => (
      <div className="form-grid">
        <input type="hidden" name="id" value={id} />
        <SelectField key={values.instrumentId} id="calibration-instrumentId" name="instrumentId" label="Instrument" defaultValue={values.instrumentId ?? ""} error={errors.instrumentId}>
          <option value="">Choose</option>
          {instruments.map((one) => <option key={one.id} value={one.id}>{one.mark}, {one.kind}</option>)}
        </SelectField>
        <TextField id="calibration-certificate" name="certificate" label="Certificate" defaultValue={values.certificate} error={errors.certificate} />
        <TextField id="calibration-calibratedAt" name="calibratedAt" type="datetime-local" label="Calibrated, site time" defaultValue={values.calibratedAt} error={errors.calibratedAt} />
        <TextField id="calibration-dueOn" name="dueOn" type="date" label="Due again on" defaultValue={values.dueOn} error={errors.dueOn} />
        <TextField id="calibration-words" name="words" label="As found, as left" defaultValue={values.words} error={errors.words} />
      </div>
    )} />
  );
}
